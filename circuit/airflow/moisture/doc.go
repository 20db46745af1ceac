// Package moisture follows the water that a compressor draws in with the air: what drops in the discharge line, what the dryer
// holds and blows out, what is left to the tanks, and where it freezes.
//
//	duty, err := moisture.Drive(ctx, vehicle, moisture.Use{ApplicationsPerHour: 60})
//	report, err := moisture.Follow(vehicle, duty, moisture.Weather{Temperature: 278, Humidity: 0.8}, moisture.Hours(8))
//	report.Tanks[0].PerDay // kg: what its drain should yield
//
// How much air goes where, how long the compressor pumps, and how often the dryer purges comes from a real airflow run; the
// water is then followed step by step, each step keeping no more vapour than its temperature and pressure allow.
//
// Sources stand beside each formula; where none is named the value is engineering judgement. Units: SI, temperatures in K,
// pressures absolute, humidity as a share of saturation.
package moisture
