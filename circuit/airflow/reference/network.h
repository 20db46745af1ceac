/* The network of an export: its rates and their exact derivatives, written from README.md. Unknowns: x = m*R*T0 of every room
   and, in thermal ones, E beside it, both in J. */
#ifndef NETWORK_H
#define NETWORK_H

#include <math.h>

#include "read_json.h"

#define TERMS 3

typedef struct {
	double base, drift, low, span, gain[TERMS];
	int room[TERMS]; /* number of rooms: the atmosphere */
	double constant, *signal; /* what hangs on controls and latches: gains */
	int signals, *which;      /* control k, or latch -1 - k */
} opening;

typedef struct {
	int a, b;
	double c, slope, forth, back, full;
	opening u;
	int thermal;     /* one of its rooms is */
	int slot[4][7];  /* rows xa Ea xb Eb; columns pa qa pb qb and the terms; see columns() */
} element;

typedef struct {
	int a, b, speed;
	double swept, clearance, rate, acceleration;
	opening u;
	int slot[2][2 + TERMS];
} pump;

typedef struct {
	int unknown, points;
	double *p, *v, *x, *bend, *at0;
} piston;

typedef struct {
	double from, to, since, until, rest;
	int held;
	const char *name;
} control;

typedef struct {
	const char *name;
	int room, aide, held, up;
	double aid, rise, fall, rests;
} latch;

typedef struct {
	int control, room;
	double below;
} trip;

typedef struct {
	double RT0, T0, R, rho0, gamma, outside, wall, eps, top, floor, travel, spring;
	int rooms, unknowns, elements, pumps, pistons, controls, latches, trips, gauges;
	char **room;
	double *volume, *hA;
	int *x, *e; /* unknowns of a room; e is -1 for isothermal ones */
	element *element;
	pump *pump;
	piston *piston;
	control *control;
	latch *latch;
	trip *trip;
	int *gauge;
	double *start;
	double *p, *per; /* by room: pressure, and dp/dx (dp/dE for thermal ones) */
	int nonzeros, *column, *row; /* compressed columns of the Jacobian */
} network;

static int find_room(const network *n, const char *name) {
	if (strcmp(name, "atmosphere") == 0) return n->rooms;
	for (int i = 0; i < n->rooms; i++)
		if (strcmp(n->room[i], name) == 0) return i;
	json_die(name);
	return -1;
}

static int find_control(const network *n, const char *name) {
	for (int i = 0; i < n->controls; i++)
		if (strcmp(n->control[i].name, name) == 0) return i;
	json_die(name);
	return -1;
}

static int find_latch(const network *n, const char *name) {
	for (int i = 0; i < n->latches; i++)
		if (strcmp(n->latch[i].name, name) == 0) return i;
	json_die(name);
	return -1;
}

static double value_at(const control *c, double t) {
	if (t >= c->until) return c->to;
	if (t <= c->since) return c->from;
	return c->from + (c->to - c->from) * (t - c->since) / (c->until - c->since);
}

static double slope_at(const control *c, double t) {
	return t >= c->until || t < c->since ? 0 : (c->to - c->from) / (c->until - c->since);
}

static void read_opening(const network *n, json *v, opening *u) {
	json *terms = json_get(v, "terms");
	int k = 0;
	u->constant = json_number(v, "base");
	u->signal = calloc(terms->count + 1, sizeof *u->signal), u->which = calloc(terms->count + 1, sizeof *u->which);
	u->low = json_number(v, "low");
	u->span = json_number(v, "high") - u->low;
	for (int i = 0; i < TERMS; i++) u->room[i] = n->rooms, u->gain[i] = 0;
	for (int i = 0; i < terms->count; i++) {
		json *w = terms->item[i], *room = json_find(w, "room"), *c = json_find(w, "control"), *l = json_find(w, "latch");
		if (c || l) {
			u->which[u->signals] = c ? find_control(n, c->text) : -1 - find_latch(n, l->text);
			u->signal[u->signals++] = json_number(w, "gain");
		}
		if (!room || u->span == 0) continue;
		if (k == TERMS) json_die("an opening that depends on more rooms than three");
		u->room[k] = find_room(n, room->text);
		u->gain[k++] = json_number(w, "gain");
	}
}

/* lay takes down what of an opening is constant from time t on, and how it drifts. */
static void lay_opening(const network *n, opening *u, double t) {
	u->base = u->constant, u->drift = 0;
	for (int i = 0; i < u->signals; i++) {
		int k = u->which[i];
		if (k < 0) {
			u->base += n->latch[-1 - k].up ? u->signal[i] : 0;
			continue;
		}
		u->base += u->signal[i] * value_at(&n->control[k], t);
		u->drift += u->signal[i] * slope_at(&n->control[k], t);
	}
}

/* columns gives the unknowns that an element's flow depends on: of each end the one that makes its pressure and, of a
   thermal one, its x; then those that make the pressures of the opening's terms. -1 for none. */
static void columns(const network *n, const element *m, int at[7]) {
	for (int i = 0; i < 7; i++) at[i] = -1;
	int ends[2] = {m->a, m->b};
	for (int i = 0; i < 2; i++) {
		int r = ends[i];
		if (r == n->rooms) continue;
		at[2 * i] = n->e[r] >= 0 ? n->e[r] : n->x[r];
		at[2 * i + 1] = n->e[r] >= 0 ? n->x[r] : -1;
	}
	for (int i = 0; i < TERMS; i++) {
		int r = m->u.room[i];
		if (m->u.span != 0 && m->u.gain[i] != 0 && r < n->rooms) at[4 + i] = n->e[r] >= 0 ? n->e[r] : n->x[r];
	}
}

static void rows(const network *n, int a, int b, int at[4]) {
	at[0] = a < n->rooms ? n->x[a] : -1;
	at[1] = a < n->rooms ? n->e[a] : -1;
	at[2] = b < n->rooms ? n->x[b] : -1;
	at[3] = b < n->rooms ? n->e[b] : -1;
}

static void pump_columns(const network *n, const pump *m, int at[2 + TERMS]) {
	int r[2 + TERMS] = {m->a, m->b};
	for (int i = 0; i < TERMS; i++) r[2 + i] = m->u.gain[i] != 0 ? m->u.room[i] : n->rooms;
	for (int i = 0; i < 2 + TERMS; i++) at[i] = r[i] == n->rooms ? -1 : n->e[r[i]] >= 0 ? n->e[r[i]] : n->x[r[i]];
}

/* lay_out finds the Jacobian's pattern, and every element's places in it; the last place is a bin. */
static void lay_out(network *n) {
	int size = n->unknowns;
	char *full = calloc(size * size, 1);
	int *place = malloc(size * size * sizeof *place);
	for (int i = 0; i < size; i++) full[i * size + i] = 1;
	for (int r = 0; r < n->rooms; r++)
		if (n->e[r] >= 0) full[n->e[r] * size + n->x[r]] = full[n->x[r] * size + n->e[r]] = 1;
	for (int pass = 0; pass < 2; pass++) {
		for (int k = 0; k < n->elements; k++) {
			int row[4], col[7];
			rows(n, n->element[k].a, n->element[k].b, row);
			columns(n, &n->element[k], col);
			for (int i = 0; i < 4; i++)
				for (int j = 0; j < 7; j++) {
					int none = row[i] < 0 || col[j] < 0;
					if (pass == 0 && !none) full[row[i] * size + col[j]] = 1;
					if (pass == 1) n->element[k].slot[i][j] = none ? n->nonzeros : place[row[i] * size + col[j]];
				}
		}
		for (int k = 0; k < n->pumps; k++) {
			int row[4], col[2 + TERMS];
			rows(n, n->pump[k].a, n->pump[k].b, row);
			pump_columns(n, &n->pump[k], col);
			for (int i = 0; i < 2; i++)
				for (int j = 0; j < 2 + TERMS; j++) {
					int none = row[2 * i] < 0 || col[j] < 0;
					if (pass == 0 && !none) full[row[2 * i] * size + col[j]] = 1;
					if (pass == 1) n->pump[k].slot[i][j] = none ? n->nonzeros : place[row[2 * i] * size + col[j]];
				}
		}
		if (pass == 1) break;
		n->column = malloc((size + 1) * sizeof *n->column);
		n->row = malloc(size * size * sizeof *n->row);
		for (int j = 0; j < size; j++) {
			n->column[j] = n->nonzeros;
			for (int i = 0; i < size; i++)
				if (full[i * size + j]) {
					place[i * size + j] = n->nonzeros;
					n->row[n->nonzeros++] = i;
				}
		}
		n->column[size] = n->nonzeros;
	}
	free(full);
	free(place);
}

static void read_rooms(network *n, json *rooms) {
	n->rooms = rooms->count;
	n->room = calloc(n->rooms, sizeof *n->room);
	n->volume = calloc(n->rooms, sizeof *n->volume), n->hA = calloc(n->rooms, sizeof *n->hA);
	n->x = calloc(n->rooms, sizeof *n->x), n->e = calloc(n->rooms, sizeof *n->e);
	n->p = calloc(n->rooms + 1, sizeof *n->p), n->per = calloc(n->rooms + 1, sizeof *n->per);
	n->start = calloc(2 * n->rooms, sizeof *n->start);
	n->piston = calloc(n->rooms, sizeof *n->piston);
	for (int i = 0; i < n->rooms; i++) {
		json *r = rooms->item[i], *points = json_get(r, "piston");
		double p = json_number(r, "pressure_Pa"), v = n->volume[i] = json_number(r, "volume_m3");
		n->room[i] = json_get(r, "name")->text;
		n->hA[i] = json_number(r, "wall_W_per_K");
		if (points->count) {
			piston *m = &n->piston[n->pistons++];
			int k = m->points = points->count;
			m->p = calloc(k, sizeof(double)), m->v = calloc(k, sizeof(double)), m->x = calloc(k, sizeof(double));
			m->bend = calloc(k, sizeof(double)), m->at0 = calloc(k, sizeof(double));
			m->unknown = i; /* the room; its unknown below */
			for (int j = 0; j < k; j++) {
				m->p[j] = n->outside + json_number(points->item[j], "gauge_Pa");
				m->v[j] = n->volume[i] + json_number(points->item[j], "volume_m3");
				m->x[j] = m->p[j] * m->v[j];
			}
			v = p <= m->p[0] ? m->v[0] : m->v[k - 1];
			for (int j = 0; j + 1 < k; j++) {
				m->bend[j] = (m->v[j + 1] - m->v[j]) / (m->p[j + 1] - m->p[j]);
				m->at0[j] = m->v[j] - m->bend[j] * m->p[j];
				if (p >= m->p[j] && p < m->p[j + 1]) v = m->at0[j] + m->bend[j] * p;
			}
		}
		n->x[i] = n->unknowns++;
		n->start[n->x[i]] = p * v * n->T0 / json_number(r, "temperature_K");
		n->e[i] = -1;
		if (json_number(r, "thermal")) {
			n->e[i] = n->unknowns++;
			n->start[n->e[i]] = p * v;
		}
		n->per[i] = 1 / n->volume[i];
	}
	n->p[n->rooms] = n->outside;
}

static void read_signals(network *n, json *v) {
	json *list = json_get(v, "controls");
	n->control = calloc(n->controls = list->count, sizeof *n->control);
	for (int i = 0; i < n->controls; i++) {
		json *c = list->item[i];
		n->control[i] = (control){json_number(c, "from"), json_number(c, "to"), json_number(c, "since_s"), json_number(c, "until_s"),
			json_number(c, "rest"), (int)json_number(c, "held"), json_text(c, "name")};
	}
	list = json_get(v, "latches");
	n->latch = calloc(n->latches = list->count, sizeof *n->latch);
	for (int i = 0; i < n->latches; i++) {
		json *l = list->item[i];
		n->latch[i] = (latch){json_text(l, "name"), find_room(n, json_text(l, "room")), find_room(n, json_text(l, "aided_by")),
			(int)json_number(l, "held"), (int)json_number(l, "up"), json_number(l, "aid"), json_number(l, "rise_Pa"), json_number(l, "fall_Pa"), json_number(l, "rests_until_s")};
	}
	list = json_get(v, "trips");
	n->trip = calloc(n->trips = list->count, sizeof *n->trip);
	for (int i = 0; i < n->trips; i++)
		n->trip[i] = (trip){find_control(n, json_text(list->item[i], "control")), find_room(n, json_text(list->item[i], "room")), json_number(list->item[i], "below_Pa")};
	list = json_get(v, "gauges");
	n->gauge = calloc(n->gauges = list->count, sizeof *n->gauge);
	for (int i = 0; i < n->gauges; i++) n->gauge[i] = find_room(n, json_text(list->item[i], "room"));
}

static void read_ways(network *n, json *v) {
	json *list = json_get(v, "elements");
	n->element = calloc(n->elements = list->count, sizeof *n->element);
	for (int i = 0; i < n->elements; i++) {
		json *w = list->item[i];
		element *m = &n->element[i];
		m->a = find_room(n, json_text(w, "from")), m->b = find_room(n, json_text(w, "to"));
		m->c = json_number(w, "conductance_m3_per_sPa") * n->rho0 * n->RT0;
		m->slope = 1 / (1 - json_number(w, "critical_ratio"));
		m->forth = json_number(w, "forth"), m->back = json_number(w, "back");
		read_opening(n, json_get(w, "opening"), &m->u);
		m->thermal = (m->a < n->rooms && n->e[m->a] >= 0) || (m->b < n->rooms && n->e[m->b] >= 0);
	}
	list = json_get(v, "pumps");
	n->pump = calloc(n->pumps = list->count, sizeof *n->pump);
	for (int i = 0; i < n->pumps; i++) {
		json *w = list->item[i];
		pump *m = &n->pump[i];
		m->a = find_room(n, json_text(w, "from")), m->b = find_room(n, json_text(w, "to"));
		m->swept = json_number(w, "displacement_m3") * json_number(w, "ratio") * json_number(w, "efficiency");
		m->clearance = json_number(w, "clearance");
		m->speed = find_control(n, json_text(w, "speed_control"));
		read_opening(n, json_get(w, "opening"), &m->u);
	}
}

static network *read_network(json *v) {
	network *n = calloc(1, sizeof *n);
	json *k = json_get(v, "constants");
	if (strcmp(json_text(v, "format"), "airpath network 2") != 0) json_die("another format than \"airpath network 2\"");
	n->R = json_number(k, "gas_constant_J_per_kgK"), n->T0 = json_number(k, "reference_temperature_K");
	n->RT0 = n->R * n->T0, n->rho0 = json_number(k, "reference_density_kg_per_m3"), n->gamma = json_number(k, "heat_ratio");
	n->outside = json_number(k, "atmosphere_Pa"), n->wall = json_number(k, "wall_temperature_K");
	n->eps = json_number(k, "smoothing"), n->top = sqrt(1 + n->eps), n->floor = json_number(k, "pump_floor");
	n->travel = json_number(k, "latch_travel_s"), n->spring = json_number(k, "spring_back_s");
	read_rooms(n, json_get(v, "rooms"));
	read_signals(n, v);
	read_ways(n, v);
	lay_out(n);
	return n;
}

/* lay makes openings and pumps those of the controls and latches from time t on. */
static void lay(network *n, double t) {
	for (int k = 0; k < n->elements; k++) lay_opening(n, &n->element[k].u, t);
	for (int k = 0; k < n->pumps; k++) {
		lay_opening(n, &n->pump[k].u, t);
		const control *c = &n->control[n->pump[k].speed];
		n->pump[k].rate = value_at(c, t), n->pump[k].acceleration = slope_at(c, t);
	}
}

/* pressures; 0 if a room holds less than nothing. */
static int pressures(network *n, const double *y) {
	for (int i = 0; i < n->rooms; i++) {
		double v = y[n->e[i] >= 0 ? n->e[i] : n->x[i]];
		if (!(v > 0) || !(y[n->x[i]] > 0)) return 0;
		n->p[i] = v / n->volume[i];
	}
	for (int i = 0; i < n->pistons; i++) {
		const piston *m = &n->piston[i];
		double x = y[n->x[m->unknown]];
		int k = m->points;
		if (x <= m->x[0]) {
			n->p[m->unknown] = x / m->v[0], n->per[m->unknown] = 1 / m->v[0];
		} else if (x >= m->x[k - 1]) {
			n->p[m->unknown] = x / m->v[k - 1], n->per[m->unknown] = 1 / m->v[k - 1];
		} else {
			int j = 0;
			while (x >= m->x[j + 1]) j++;
			double root = sqrt(m->at0[j] * m->at0[j] + 4 * m->bend[j] * x);
			n->p[m->unknown] = m->at0[j] > 0 ? 2 * x / (m->at0[j] + root) : (root - m->at0[j]) / (2 * m->bend[j]);
			n->per[m->unknown] = 1 / root;
		}
	}
	return 1;
}

static double opened(const network *n, const opening *u, double since, double *steep) {
	*steep = 0;
	double v = u->base + u->drift * since + u->gain[0] * n->p[u->room[0]] + u->gain[1] * n->p[u->room[1]] + u->gain[2] * n->p[u->room[2]];
	if (v <= 0) return u->low;
	if (v >= 1) return u->low + u->span;
	*steep = u->span * 6 * v * (1 - v);
	return u->low + u->span * v * v * (3 - 2 * v);
}

/* rates of the unknowns, since seconds after lay; with jac also their derivatives. 0 if there are none. */
static int rates(network *n, const double *y, double since, double *dydt, double *jac) {
	if (!pressures(n, y)) return 0;
	const double *p = n->p;
	if (dydt) memset(dydt, 0, n->unknowns * sizeof *dydt);
	if (jac) memset(jac, 0, (n->nonzeros + 1) * sizeof *jac);
	for (int k = 0; k < n->elements; k++) {
		const element *m = &n->element[k];
		double steep, u = opened(n, &m->u, since, &steep);
		if (u == 0 && steep == 0) continue;
		int a = m->a, b = m->b, fromA = p[a] >= p[b];
		double p1 = fromA ? p[a] : p[b], r = (fromA ? p[b] : p[a]) / p1;
		double g = m->c * (fromA ? m->forth : -m->back);
		double x = (1 - r) * m->slope, phi = 1, bend = 0;
		if (x < 1) {
			double q = x * (2 - x), s = 1 / sqrt(q + n->eps);
			phi = n->top * q * s;
			bend = -n->top * (q + 2 * n->eps) * s * s * s * (1 - x) * m->slope;
		}
		double f = g * p1 * phi, theta = 1, root = 1;
		int up = fromA ? a : b;
		int warm = m->thermal && up < n->rooms && n->e[up] >= 0;
		if (warm) theta = y[n->e[up]] / y[n->x[up]], root = 1 / sqrt(theta);
		f *= root;
		double w = u * f;
		if (dydt) {
			if (a < n->rooms) dydt[n->x[a]] -= w;
			if (b < n->rooms) dydt[n->x[b]] += w;
			if (m->thermal) {
				double h = n->gamma * theta * w;
				if (a < n->rooms && n->e[a] >= 0) dydt[n->e[a]] -= h;
				if (b < n->rooms && n->e[b] >= 0) dydt[n->e[b]] += h;
			}
		}
		if (!jac) continue;
		double d1 = u * g * (phi - r * bend) * root, d2 = u * g * bend * root;
		double by[7] = {0}, heat[7] = {0};
		by[0] = (fromA ? d1 : d2) * n->per[a];
		by[2] = (fromA ? d2 : d1) * n->per[b];
		for (int i = 0; i < TERMS; i++) by[4 + i] = f * steep * m->u.gain[i] * n->per[m->u.room[i]];
		if (m->thermal) {
			double c = n->gamma * theta;
			for (int i = 0; i < 7; i++) heat[i] = c * by[i];
			if (warm) { /* theta = E/x: the flow goes with its root's inverse, the heat with its root */
				double e = y[n->e[up]], q = y[n->x[up]];
				int own = fromA ? 0 : 2;
				by[own] -= w / (2 * e), by[own + 1] += w / (2 * q);
				heat[own] += c * w / (2 * e), heat[own + 1] -= c * w / (2 * q);
			}
			for (int i = 0; i < 7; i++) {
				jac[m->slot[0][i]] -= by[i], jac[m->slot[2][i]] += by[i];
				jac[m->slot[1][i]] -= heat[i], jac[m->slot[3][i]] += heat[i];
			}
			continue;
		}
		jac[m->slot[0][0]] -= by[0], jac[m->slot[2][0]] += by[0];
		jac[m->slot[0][2]] -= by[2], jac[m->slot[2][2]] += by[2];
		if (steep == 0) continue;
		for (int i = 4; i < 4 + TERMS; i++) jac[m->slot[0][i]] -= by[i], jac[m->slot[2][i]] += by[i];
	}
	for (int k = 0; k < n->pumps; k++) {
		const pump *m = &n->pump[k];
		double steep, u = opened(n, &m->u, since, &steep);
		double pa = p[m->a], r = p[m->b] / pa, root = sqrt(r), quarter = sqrt(root);
		double eta = 1 + m->clearance - m->clearance * root * quarter;
		double bend = sqrt(eta * eta + n->floor * n->floor), share = (eta + bend) / 2;
		double g = m->swept * (m->rate + m->acceleration * since);
		if (dydt) {
			double w = u * g * pa * share;
			if (m->a < n->rooms) dydt[n->x[m->a]] -= w;
			if (m->b < n->rooms) dydt[n->x[m->b]] += w;
		}
		if (!jac) continue;
		double dshare = -0.75 * m->clearance / quarter * share / bend;
		double by[2 + TERMS] = {u * g * (share - r * dshare) * n->per[m->a], u * g * dshare * n->per[m->b]};
		for (int i = 0; i < TERMS; i++) by[2 + i] = g * pa * share * steep * m->u.gain[i] * n->per[m->u.room[i]];
		for (int i = 0; i < 2 + TERMS; i++) jac[m->slot[0][i]] -= by[i], jac[m->slot[1][i]] += by[i];
	}
	for (int r = 0; r < n->rooms; r++) {
		if (n->e[r] < 0) continue;
		double e = y[n->e[r]], q = y[n->x[r]], strength = (n->gamma - 1) * n->hA[r];
		if (dydt) dydt[n->e[r]] += strength * (n->wall - n->T0 * e / q);
		if (!jac) continue;
		for (int k = n->column[n->e[r]]; k < n->column[n->e[r] + 1]; k++)
			if (n->row[k] == n->e[r]) jac[k] -= strength * n->T0 / q;
		for (int k = n->column[n->x[r]]; k < n->column[n->x[r] + 1]; k++)
			if (n->row[k] == n->e[r]) jac[k] += strength * n->T0 * e / (q * q);
	}
	return 1;
}

#endif
