// Package usage counts the air that braking takes: what a reservoir has to give, what an application, snubbing and fanning cost,
// and whether the compressor keeps up with them. Vehicles are followed through the real airflow run; the handbook's identities
// stand beside it as plain functions.
//
// Units: SI. Volumes of free air are those of ISO 8778's reference air, as airflow.FreeAir gives them.
package usage
