/* Carries out an exported run with SUNDIALS' CVODE: BDF, Newton, KLU on the exact sparse Jacobian, its own root finding for
   latches and trips, stop times at every corner of an input.

       cvode EXPORT.json RTOL ATOL_PA SMALL_M3 MAXSTEP REPEATS EVERY

   SMALL_M3 relieves the error in small rooms by V/(V + SMALL_M3); MAXSTEP 0 is none. Prints the least processor time that one of the repeats took (s) and the counts of steps, rates, factorings; then, with EVERY > 0,
   the gauges' rooms every so many seconds, and the events. */
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>
#include <time.h>

#include "network.h"

typedef struct {
	network *n;
	double t, laid; /* now; when openings were last laid */
	double rtol, atol, small;
	int *armed, events;
	double *bin;
} run;

static int f(sunrealtype t, N_Vector y, N_Vector dydt, void *data) {
	run *r = data;
	return rates(r->n, N_VGetArrayPointer(y), t - r->laid, N_VGetArrayPointer(dydt), NULL) ? 0 : 1;
}

static int jacobian(sunrealtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *data, N_Vector a, N_Vector b, N_Vector c) {
	run *r = data;
	network *n = r->n;
	(void)fy, (void)a, (void)b, (void)c;
	if (!rates(n, N_VGetArrayPointer(y), t - r->laid, NULL, r->bin)) return 1;
	sunindextype *column = SUNSparseMatrix_IndexPointers(J), *row = SUNSparseMatrix_IndexValues(J);
	for (int i = 0; i <= n->unknowns; i++) column[i] = n->column[i];
	for (int i = 0; i < n->nonzeros; i++) row[i] = n->row[i];
	memcpy(SUNSparseMatrix_Data(J), r->bin, n->nonzeros * sizeof(double));
	return 0;
}

/* weights: the error is measured on pressure, less in rooms that are small. */
static int weights(N_Vector y, N_Vector w, void *data) {
	run *r = data;
	network *n = r->n;
	const double *x = N_VGetArrayPointer(y);
	double *out = N_VGetArrayPointer(w);
	for (int i = 0; i < n->rooms; i++) {
		double v = n->volume[i], relief = (v + r->small) / v;
		out[n->x[i]] = 1 / (relief * (r->rtol * fabs(x[n->x[i]]) + r->atol * v));
		if (n->e[i] >= 0) out[n->e[i]] = 1 / (relief * (r->rtol * fabs(x[n->e[i]]) + r->atol * v));
	}
	return 0;
}

static double past(const run *r, int k) {
	const network *n = r->n;
	if (k < n->latches) {
		const latch *l = &n->latch[k];
		double seen = n->p[l->room] + l->aid * (n->p[l->aide] - n->outside);
		return l->up ? l->fall - seen : seen - l->rise;
	}
	const trip *w = &n->trip[k - n->latches];
	return w->below - n->p[w->room];
}

static int roots(sunrealtype t, N_Vector y, sunrealtype *g, void *data) {
	run *r = data;
	(void)t;
	if (!pressures(r->n, N_VGetArrayPointer(y))) return 1;
	for (int k = 0; k < r->n->latches + r->n->trips; k++) g[k] = r->armed[k] ? past(r, k) : -1e5;
	return 0;
}

static void arm(run *r) {
	network *n = r->n;
	for (int k = 0; k < n->latches; k++) r->armed[k] = !n->latch[k].held && n->latch[k].rests <= r->t;
	for (int k = 0; k < n->trips; k++) {
		const control *c = &n->control[n->trip[k].control];
		r->armed[n->latches + k] = !c->held && c->to != c->rest;
	}
}

static double now(void) {
	struct timespec s;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &s);
	return s.tv_sec + 1e-9 * s.tv_nsec;
}

static void must(int ok, const char *what) {
	if (ok) return;
	fprintf(stderr, "cvode: %s\n", what);
	exit(1);
}

typedef struct {
	long steps, rates, factorings;
	double seconds;
} cost;

static void show(const network *n, const char *what, double t) {
	printf("%s %.9g", what, t);
	for (int i = 0; i < n->gauges; i++) printf(" %.10g", n->p[n->gauge[i]]);
}

static cost go(json *export, double rtol, double atol, double small, double longest, double every) {
	network *n = read_network(export);
	run r = {n, json_number(export, "begin_s"), 0, rtol, atol, small, NULL, 0, NULL};
	json *inputs = json_get(export, "inputs");
	int todo = 0;
	double end = json_number(export, "end_s"), next = r.t;
	must(json_get(export, "changes")->count == 0, "runs with changed elements are not read here");
	r.armed = calloc(n->latches + n->trips, sizeof *r.armed);
	r.bin = calloc(n->nonzeros + 1, sizeof *r.bin);

	SUNContext context;
	must(SUNContext_Create(NULL, &context) == 0, "no context");
	N_Vector y = N_VNew_Serial(n->unknowns, context);
	memcpy(N_VGetArrayPointer(y), n->start, n->unknowns * sizeof(double));
	SUNMatrix J = SUNSparseMatrix(n->unknowns, n->unknowns, n->nonzeros, CSC_MAT, context);
	SUNLinearSolver solver = SUNLinSol_KLU(y, J, context);
	void *c = CVodeCreate(CV_BDF, context);
	must(CVodeInit(c, f, r.t, y) == 0, "CVodeInit");
	must(CVodeSetUserData(c, &r) == 0 && CVodeWFtolerances(c, weights) == 0, "tolerances");
	must(CVodeSetLinearSolver(c, solver, J) == 0 && CVodeSetJacFn(c, jacobian) == 0, "linear solver");
	must(CVodeSetMaxNumSteps(c, 10000000) == 0 && CVodeSetMaxStep(c, longest) == 0 && CVodeSetMaxErrTestFails(c, 30) == 0 && CVodeSetMaxConvFails(c, 50) == 0, "limits");
	must(CVodeRootInit(c, n->latches + n->trips, roots) == 0 && CVodeSetNoInactiveRootWarn(c) == 0, "roots");
	int *ways = calloc(n->latches + n->trips, sizeof *ways);
	for (int k = 0; k < n->latches + n->trips; k++) ways[k] = 1;
	CVodeSetRootDirection(c, ways);
	CVodeSetMaxHnilWarns(c, 0);

	cost out = {0, 0, 0, 0};
	double began = now();
	for (int fresh = 1;;) {
		while (todo < inputs->count && json_number(inputs->item[todo], "at_s") <= r.t) {
			json *i = inputs->item[todo++];
			control *k = &n->control[find_control(n, json_text(i, "control"))];
			*k = (control){value_at(k, r.t), json_number(i, "to"), r.t, r.t + json_number(i, "over_s"), k->rest, k->held, k->name};
			fresh = 1;
		}
		arm(&r);
		pressures(n, N_VGetArrayPointer(y));
		for (int k = 0; k < n->latches + n->trips; k++) {
			if (!r.armed[k] || past(&r, k) < -0.1) continue;
			fresh = 1, r.events++;
			if (k < n->latches) {
				latch *l = &n->latch[k];
				l->up = !l->up, l->rests = r.t + n->travel;
				if (every > 0) show(n, "event", r.t), printf(" %s\n", l->name);
			} else {
				control *w = &n->control[n->trip[k - n->latches].control];
				*w = (control){value_at(w, r.t), w->rest, r.t, r.t + n->spring, w->rest, w->held, w->name};
				if (every > 0) show(n, "event", r.t), printf(" %s\n", w->name);
			}
		}
		if (r.t >= end) break;
		arm(&r);
		lay(n, r.t), r.laid = r.t;
		double corner = end;
		if (todo < inputs->count) corner = fmin(corner, json_number(inputs->item[todo], "at_s"));
		for (int k = 0; k < n->controls; k++)
			if (n->control[k].until > r.t) corner = fmin(corner, n->control[k].until);
		for (int k = 0; k < n->latches; k++)
			if (n->latch[k].rests > r.t) corner = fmin(corner, n->latch[k].rests);
		if (fresh) {
			long a = 0, b = 0, d = 0;
			CVodeGetNumSteps(c, &a), CVodeGetNumRhsEvals(c, &b), CVodeGetNumLinSolvSetups(c, &d);
			out.steps += a, out.rates += b, out.factorings += d;
			must(CVodeReInit(c, r.t, y) == 0, "CVodeReInit");
		}
		must(CVodeSetStopTime(c, corner) == 0, "stop time");
		fresh = 1;
		for (;;) {
			double want = every > 0 ? fmin(corner, next) : corner, t;
			if (every > 0 && next <= r.t) {
				pressures(n, N_VGetArrayPointer(y));
				show(n, "sample", next), putchar('\n');
				next += every;
				continue;
			}
			int flag = CVode(c, want, y, &t, CV_NORMAL);
			must(flag >= 0, "CVode gave up");
			r.t = t;
			if (flag == CV_ROOT_RETURN) break;
			if (t >= corner) {
				r.t = corner;
				break;
			}
		}
	}
	out.seconds = now() - began;
	long a = 0, b = 0, d = 0;
	CVodeGetNumSteps(c, &a), CVodeGetNumRhsEvals(c, &b), CVodeGetNumLinSolvSetups(c, &d);
	out.steps += a, out.rates += b, out.factorings += d;
	if (every > 0 && next <= end + 1e-9) show(n, "sample", end), putchar('\n');
	CVodeFree(&c);
	SUNLinSolFree(solver), SUNMatDestroy(J), N_VDestroy(y);
	return out;
}

int main(int count, char **word) {
	must(count == 8, "want EXPORT.json RTOL ATOL_PA SMALL_M3 MAXSTEP REPEATS EVERY");
	json *export = json_read(word[1]);
	double rtol = atof(word[2]), atol = atof(word[3]), small = atof(word[4]), longest = atof(word[5]), every = atof(word[7]);
	cost best = {0, 0, 0, 1e9};
	for (int i = 0; i < atoi(word[6]); i++) {
		cost now = go(export, rtol, atol, small, longest, 0);
		if (now.seconds < best.seconds) best = now;
	}
	printf("cost %.9f %ld %ld %ld\n", best.seconds, best.steps, best.rates, best.factorings);
	if (every > 0) go(export, rtol, atol, small, longest, every);
	return 0;
}
