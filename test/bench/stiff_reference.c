/*
 * A stiff library integrator in C (CVODE of SUNDIALS, backward differences, banded Jacobian by differences) on the equations of
 * same-equations.ts, its right-hand side in C too. Reads numbers in the order of solve-c.ts, writes a line a tolerance:
 * tolerance, CPU seconds, evaluations, then u = v_B - v_A at every sample, V.
 *
 * State in the order of the wire, so that the Jacobian is a band: of every section its node's voltage, its lagged current, and
 * phi/phi_r of its cores; the last node's voltage. Time in nanoseconds. Lagged drive currents have a closed form.
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>
#include <time.h>

#define NS 1e-9
#define STILL 1e-8
enum { COUNT, POLARITY, BIAS, PHIR, PHIS, COERCIVE, KNEE, THRESHOLD, SOFT, RHO, ELASTIC_A, ELASTIC_B, BEND, FX, FY, FH, PHI0, FIELDS };

static int n, classes, corners, span;
static double tau, period, output;
static double *resistance, *inductance, *capacitance, *off, *conductance, *injection, *air[3], *corner, *currents[3];
static double *field[FIELDS], *quiet, *rest, *pivot, *lower, *warm, *current, *into;
static int *section, *first, *member, *place;
static double lag_start[3];
static long evaluations;

static double *numbers(int count) {
  double *list = malloc(sizeof(double) * (count > 0 ? count : 1));
  for (int i = 0; i < count; i++)
    if (scanf("%lf", &list[i]) != 1) exit(2);
  return list;
}

/* dphi/dt of class i at the drive F and its derivative by F (core/model.ts). */
static double move(int i, double F, double phi, double *by_drive) {
  double sign = F < 0 ? -1 : 1, f = sign * F, p = sign * phi, phi_r = field[PHIR][i];
  *by_drive = 0;
  if (f < quiet[i]) return 0;
  double phi_d = phi_r * (2 / (1 + exp((field[COERCIVE][i] - f) / field[KNEE][i])) - 1);
  double width = field[PHIS][i] + phi_d;
  if (p >= phi_d || width <= 0) return 0;
  double u = (2 * p + field[PHIS][i] - phi_d) / width;
  if (u <= -1) return 0;
  double z = (f - field[THRESHOLD][i]) / field[SOFT][i];
  double v_p = field[RHO][i] * field[SOFT][i] * ((z > 36 ? z : log1p(exp(z))) - rest[i]);
  double v_p_slope = field[RHO][i] / (1 + exp(-z));
  double phi_d_slope = (phi_r * phi_r - phi_d * phi_d) / (2 * phi_r * field[KNEE][i]);
  *by_drive = v_p_slope * (1 - u * u) + 2 * u * v_p * phi_d_slope * (1 + u) / width;
  return sign * v_p * (1 - u * u);
}

/* Drive currents at t ns, their slopes, and the same with the ferrite's lag. */
static void drives(double t, double now[3], double lag[3], double lag_slope[3]) {
  double since = t * NS - corner[span], length = corner[span + 1] - corner[span];
  for (int w = 0; w < 3; w++) {
    double slope = (currents[w][span + 1] - currents[w][span]) / length;
    now[w] = currents[w][span] + slope * since;
    double left = tau > 0 ? (lag_start[w] - currents[w][span] + slope * tau) * exp(-since / tau) : 0;
    lag[w] = now[w] - slope * tau + left;
    lag_slope[w] = tau > 0 ? slope - left / tau : slope;
  }
}

static int evaluate(realtype t, N_Vector state, N_Vector out_vector, void *unused) {
  (void)unused;
  const double *y = N_VGetArrayPointer(state);
  double *out = N_VGetArrayPointer(out_vector);
  double now[3], lag[3], lag_slope[3];
  evaluations++;
  drives(t, now, lag, lag_slope);
  for (int k = 0; k < n; k++) {
    double v = y[place[k]], after = y[place[k + 1]], l = y[place[k] + 1];
    double own = inductance[k] + resistance[k] * tau, drop = v - after - resistance[k] * l;
    for (int w = 0; w < 3; w++) drop -= air[w][k] * lag_slope[w];
    double left[64], bare[64];
    for (int m = first[k]; m < first[k + 1]; m++) {
      int i = member[m];
      double phi = y[place[k] + 2 + m - first[k]] * field[PHIR][i], s = field[POLARITY][i];
      double F = field[FX][i] * lag[0] + field[FY][i] * lag[1] + field[FH][i] * lag[2] + s * l + field[BIAS][i];
      double root = sqrt(F * F + field[BEND][i] * field[BEND][i]);
      double softer = field[ELASTIC_A][i] - field[ELASTIC_B][i] * phi * F / root;
      own += field[COUNT][i] * softer;
      drop -= field[COUNT][i] * s * softer *
              (field[FX][i] * lag_slope[0] + field[FY][i] * lag_slope[1] + field[FH][i] * lag_slope[2]);
      left[m - first[k]] = 1 - field[ELASTIC_B][i] * (root - field[BEND][i]);
      bare[m - first[k]] = field[FX][i] * now[0] + field[FY][i] * now[1] + field[FH][i] * now[2] + field[BIAS][i];
    }
    /* The cores' rates depend on the current itself, i = l + tau dl/dt: Newton from the last answer. */
    double z = warm[k];
    for (int tries = 0; tries < 20; tries++) {
      double miss = own * z - drop, steep = own;
      for (int m = first[k]; m < first[k + 1]; m++) {
        int i = member[m], at = m - first[k];
        double by_drive, s = field[POLARITY][i];
        double rate = move(i, bare[at] + s * (l + tau * z), y[place[k] + 2 + at] * field[PHIR][i], &by_drive);
        out[place[k] + 2 + at] = rate / field[PHIR][i] * NS;
        miss += field[COUNT][i] * s * left[at] * rate;
        steep += field[COUNT][i] * left[at] * by_drive * tau;
      }
      double step = miss / steep;
      z -= step;
      if (fabs(step) * own < 1e-9) break;
    }
    warm[k] = z;
    out[place[k] + 1] = z * NS;
    current[k] = l + tau * z;
  }
  for (int k = 0; k <= n; k++)
    into[k] = (k > 0 ? current[k - 1] : 0) - (k < n ? current[k] : 0) - conductance[k] * y[place[k]] + injection[k] * now[2];
  for (int k = 1; k <= n; k++) into[k] -= lower[k] * into[k - 1];
  into[n] /= pivot[n];
  for (int k = n - 1; k >= 0; k--) into[k] = (into[k] - off[k] * into[k + 1]) / pivot[k];
  for (int k = 0; k <= n; k++) out[place[k]] = into[k] * NS;
  return 0;
}

static void read_system(void) {
  if (scanf("%d %d %d %lf %lf %lf", &n, &classes, &corners, &tau, &period, &output) != 6) exit(2);
  resistance = numbers(n);
  inductance = numbers(n);
  capacitance = numbers(n + 1);
  off = numbers(n);
  conductance = numbers(n + 1);
  injection = numbers(n + 1);
  for (int w = 0; w < 3; w++) air[w] = numbers(n);
  corner = numbers(corners);
  for (int w = 0; w < 3; w++) currents[w] = numbers(corners);
  double *where = numbers(classes);
  section = malloc(sizeof(int) * classes);
  for (int i = 0; i < classes; i++) section[i] = (int)where[i];
  for (int f = 0; f < FIELDS; f++) field[f] = numbers(classes);
  free(where);
}

/* Places of the state in the order of the wire; @returns its size. */
static int lay_out(int *half_band) {
  first = calloc(n + 1, sizeof(int));
  member = malloc(sizeof(int) * classes);
  place = malloc(sizeof(int) * (n + 1));
  int filled = 0, at = 0, widest = 0;
  for (int k = 0; k < n; k++) {
    first[k] = filled;
    place[k] = at;
    for (int i = 0; i < classes; i++)
      if (section[i] == k) member[filled++] = i;
    if (filled - first[k] > 64) exit(3);
    at += 2 + filled - first[k];
    if (at - place[k] > widest) widest = at - place[k];
  }
  first[n] = filled;
  place[n] = at;
  /* Beyond four sections the inverse of the averaged capacitance has next to nothing left. */
  *half_band = 4 * widest < at ? 4 * widest : at;
  quiet = malloc(sizeof(double) * classes);
  rest = malloc(sizeof(double) * classes);
  for (int i = 0; i < classes; i++) {
    double s = field[SOFT][i];
    quiet[i] = fmax(0, field[THRESHOLD][i] + s * log(STILL / (field[RHO][i] * s)));
    rest[i] = log1p(exp(-field[THRESHOLD][i] / s));
  }
  pivot = malloc(sizeof(double) * (n + 1));
  lower = calloc(n + 1, sizeof(double));
  pivot[0] = capacitance[0];
  for (int k = 1; k <= n; k++) {
    lower[k] = off[k - 1] / pivot[k - 1];
    pivot[k] = capacitance[k] - lower[k] * off[k - 1];
  }
  warm = calloc(n + 1, sizeof(double));
  current = calloc(n + 1, sizeof(double));
  into = calloc(n + 1, sizeof(double));
  return at + 1;
}

static void solve(double tolerance, int size, int half_band) {
  SUNContext context;
  SUNContext_Create(NULL, &context);
  N_Vector y = N_VNew_Serial(size, context);
  double *state = N_VGetArrayPointer(y);
  for (int i = 0; i < size; i++) state[i] = 0;
  for (int k = 0; k < n; k++) {
    warm[k] = 0;
    for (int m = first[k]; m < first[k + 1]; m++)
      state[place[k] + 2 + m - first[k]] = field[PHI0][member[m]] / field[PHIR][member[m]];
  }
  for (int w = 0; w < 3; w++) lag_start[w] = 0;
  int samples = (int)floor(period / output + 1e-9) + 1;
  double *u = calloc(samples, sizeof(double)), step = output / NS;
  evaluations = 0;
  span = 0;
  void *solver = CVodeCreate(CV_BDF, context);
  SUNMatrix matrix = SUNBandMatrix(size, half_band, half_band, context);
  SUNLinearSolver linear = SUNLinSol_Band(y, matrix, context);
  CVodeInit(solver, evaluate, 0, y);
  CVodeSStolerances(solver, tolerance, tolerance * 1e-2);
  CVodeSetLinearSolver(solver, linear, matrix);
  CVodeSetMaxNumSteps(solver, 1000000);
  clock_t began = clock();
  int sample = 1;
  for (span = 0; span + 1 < corners; span++) {
    double from = corner[span] / NS, to = corner[span + 1] / NS, t = from;
    if (to <= from) continue;
    CVodeReInit(solver, from, y);
    CVodeSetStopTime(solver, to);
    for (; sample < samples && sample * step < to - 1e-9; sample++) {
      if (CVode(solver, sample * step, y, &t, CV_NORMAL) < 0) exit(4);
      u[sample] = state[place[n]] - state[0];
    }
    if (t < to && CVode(solver, to, y, &t, CV_NORMAL) < 0) exit(4);
    if (sample < samples && sample * step < to + 1e-9) u[sample++] = state[place[n]] - state[0];
    double now[3], lag[3], lag_slope[3];
    drives(to, now, lag, lag_slope);
    for (int w = 0; w < 3; w++) lag_start[w] = lag[w];
  }
  printf("%.17g %.9g %ld", tolerance, (double)(clock() - began) / CLOCKS_PER_SEC, evaluations);
  for (int i = 0; i < samples; i++) printf(" %.9g", u[i]);
  printf("\n");
  free(u);
  CVodeFree(&solver);
  SUNLinSolFree(linear);
  SUNMatDestroy(matrix);
  N_VDestroy(y);
  SUNContext_Free(&context);
}

int main(void) {
  int half_band, count;
  read_system();
  int size = lay_out(&half_band);
  if (scanf("%d", &count) != 1) return 2;
  double *tolerances = numbers(count);
  for (int i = 0; i < count; i++) solve(tolerances[i], size, half_band);
  return 0;
}
