/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Do 95 % intervals hold the truth in 95 of 100 machines? Machines with known faults are measured with known scatter
 * and adjusted; for every unknown the intervals that hold the truth are counted. Nuisances are drawn from what is
 * stated about them, errors of readings from their u. Reports in TAP. coverage [MACHINES [SEED]] */
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "measure/adjustment.h"

#define LEAST 0.94
#define MOST 0.97
/* Fewer machines than this with an unknown say too little about it. */
#define ENOUGH 2000

typedef struct
{
  double scale[26], lash[26], datum[26][3];
  double skew_xy, skew_xz, skew_yz;
  double shrink, bead, foot;
} Truth;

typedef struct
{
  const char *name; /* one after the other, as they are met */
  guint held, machines;
} Tally;

typedef struct
{
  Tally tallies[64];
  guint n;
  guint birge, failed;
} Tallies;

static const char *const sets[3] = { NULL, "first", "second" };

static void
draw_truth (gsl_rng *rng, Truth *truth)
{
  const double degree = G_PI / 180;

  for (int i = 0; i < 26; i++)
    {
      truth->scale[i] = gsl_ran_gaussian (rng, 0.02);
      truth->lash[i] = gsl_ran_gaussian (rng, 1);
      for (int k = 0; k < 3; k++)
        truth->datum[i][k] = gsl_ran_gaussian (rng, 10);
    }
  truth->skew_xy = gsl_ran_gaussian (rng, degree);
  truth->skew_xz = gsl_ran_gaussian (rng, degree);
  truth->skew_yz = gsl_ran_gaussian (rng, degree);
  truth->shrink = 0.002 + gsl_ran_gaussian (rng, 0.003);
  truth->bead = gsl_ran_gaussian (rng, 0.2);
  truth->foot = gsl_ran_gaussian (rng, 0.2);
}

/* In coordinates, as the machine would lay it down. */
static double
landed (const Truth *truth, const TrammelReading *reading)
{
  double c[3];
  char letter = reading->along.axes[0];

  trammel_direction_vector (&reading->along, c);
  if (c[0] == 0 && c[1] == 0 && c[2] == 0)
    return reading->nominal * (1 + truth->scale[letter - 'A']);

  double x = c[0] * reading->nominal * (1 + truth->scale['X' - 'A']);
  double y = c[1] * reading->nominal * (1 + truth->scale['Y' - 'A']);
  double z = c[2] * reading->nominal * (1 + truth->scale['Z' - 'A']);
  double j[2] = { -sin (truth->skew_xy), cos (truth->skew_xy) };
  double k0 = -sin (truth->skew_xz);
  double k1 = (-sin (truth->skew_yz) - k0 * j[0]) / j[1];
  double k2 = sqrt (1 - k0 * k0 - k1 * k1);
  double at[3] = { x + y * j[0] + z * k0, y * j[1] + z * k1, z * k2 };
  double length = sqrt (at[0] * at[0] + at[1] * at[1] + at[2] * at[2]);
  return reading->nominal < 0 ? -length : length;
}

static int
set_index (const TrammelReading *reading)
{
  for (int i = 1; i < 3; i++)
    if (g_strcmp0 (reading->set, sets[i]) == 0)
      return i;
  return 0;
}

static double
measured_without_error (const Truth *truth, const TrammelReading *reading)
{
  int axis = reading->along.axes[0] - 'A';
  double length = landed (truth, reading);
  double c[3];

  trammel_direction_vector (&reading->along, c);
  switch ((TrammelReadingKind)reading->kind)
    {
    case TRAMMEL_READING_OUTSIDE:
      return length * (1 - truth->shrink) + 2 * truth->bead * (fabs (c[0]) + fabs (c[1]));
    case TRAMMEL_READING_INSIDE:
      return length * (1 - truth->shrink) - 2 * truth->bead * (fabs (c[0]) + fabs (c[1]));
    case TRAMMEL_READING_CENTER:
      return length * (1 - truth->shrink);
    case TRAMMEL_READING_HEIGHT:
      return length * (1 - truth->shrink) + truth->foot;
    case TRAMMEL_READING_TRAVEL:
      return length - (reading->approach == TRAMMEL_APPROACH_REVERSED ? truth->lash[axis] : 0);
    case TRAMMEL_READING_REVERSAL:
      return truth->lash[axis];
    case TRAMMEL_READING_POSITION:
    default:
      {
        double side = reading->approach == TRAMMEL_APPROACH_UP     ? 0.5
                      : reading->approach == TRAMMEL_APPROACH_DOWN ? -0.5
                                                                   : 0;
        return truth->datum[axis][set_index (reading)] + length - side * truth->lash[axis];
      }
    }
}

static void
add (GArray *rows, TrammelReadingKind kind, const char *along, double nominal, TrammelApproach approach, int set)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  reading.kind = (guint8)kind;
  reading.approach = (guint8)approach;
  reading.has_along = trammel_direction_parse (along, &reading.along, NULL);
  reading.nominal = nominal;
  if (set > 0)
    reading.set = g_ref_string_new_intern (sets[set]);
  g_array_append_val (rows, reading);
}

/* The square: outside sizes at two lengths, an inside size, both diagonals, two heights. */
static void
add_square (gsl_rng *rng, GArray *rows)
{
  double size = 60 + 60 * gsl_rng_uniform (rng);

  for (const char *axis = "X\0Y\0"; *axis != '\0'; axis += 2)
    {
      add (rows, TRAMMEL_READING_OUTSIDE, axis, size, TRAMMEL_APPROACH_NONE, 0);
      add (rows, TRAMMEL_READING_OUTSIDE, axis, size / 2, TRAMMEL_APPROACH_NONE, 0);
      add (rows, TRAMMEL_READING_INSIDE, axis, size * 0.8, TRAMMEL_APPROACH_NONE, 0);
    }
  add (rows, TRAMMEL_READING_OUTSIDE, "X+Y", size * sqrt (2), TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_OUTSIDE, "X-Y", size * sqrt (2), TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_HEIGHT, "Z", 5, TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_HEIGHT, "Z", 20, TRAMMEL_APPROACH_NONE, 0);
}

static void
add_travels (gsl_rng *rng, GArray *rows)
{
  double length = 100 + 50 * gsl_rng_uniform (rng);

  add (rows, TRAMMEL_READING_TRAVEL, "X", length, TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_TRAVEL, "X", length / 2, TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_TRAVEL, "X", length, TRAMMEL_APPROACH_REVERSED, 0);
  add (rows, TRAMMEL_READING_TRAVEL, "XY@30", length, TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_TRAVEL, "E", 50, TRAMMEL_APPROACH_NONE, 0);
  add (rows, TRAMMEL_READING_TRAVEL, "E", 80, TRAMMEL_APPROACH_NONE, 0);
}

static void
add_positions (gsl_rng *rng, GArray *rows)
{
  for (int set = 0; set < 3; set++)
    for (int i = 0; i < 4; i++)
      add (rows, TRAMMEL_READING_POSITION, set == 2 ? "A" : "Y", -40 + 150 * gsl_rng_uniform (rng),
           (i & 1) ? TRAMMEL_APPROACH_UP : TRAMMEL_APPROACH_DOWN, set);
}

static void
add_reversals (GArray *rows)
{
  for (int place = 0; place < 3; place++)
    {
      add (rows, TRAMMEL_READING_REVERSAL, "X", 40.0 * place, TRAMMEL_APPROACH_NONE, 0);
      add (rows, TRAMMEL_READING_REVERSAL, "Y", 40.0 * place, TRAMMEL_APPROACH_NONE, 0);
    }
}

static void
add_space (gsl_rng *rng, GArray *rows)
{
  static const char *const directions[] = { "X+Z", "X-Z", "Y+Z", "Y-Z", "X+Y+Z" };

  for (gsize i = 0; i < G_N_ELEMENTS (directions); i++)
    add (rows, TRAMMEL_READING_CENTER, directions[i], 40 + 60 * gsl_rng_uniform (rng), TRAMMEL_APPROACH_NONE, 0);
}

static GArray *
plan (gsl_rng *rng, TrammelScatter scatter)
{
  GArray *rows = trammel_reading_array_new (0);
  gboolean all = scatter == TRAMMEL_SCATTER_ESTIMATED;

  if (all || gsl_rng_uniform (rng) < 0.7)
    add_square (rng, rows);
  if (all || gsl_rng_uniform (rng) < 0.6)
    add_travels (rng, rows);
  if (all || gsl_rng_uniform (rng) < 0.6)
    add_positions (rng, rows);
  if (all || gsl_rng_uniform (rng) < 0.4)
    add_space (rng, rows);
  if (all || gsl_rng_uniform (rng) < 0.4)
    add_reversals (rows);
  if (rows->len == 0)
    add_square (rng, rows);
  return rows;
}

static void
measure (gsl_rng *rng, const Truth *truth, TrammelScatter scatter, GArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    {
      TrammelReading *reading = &g_array_index (rows, TrammelReading, i);
      double u = scatter == TRAMMEL_SCATTER_STATED ? pow (10, -2 + gsl_rng_uniform (rng)) : 0.03;
      if (scatter == TRAMMEL_SCATTER_STATED)
        reading->u = u;
      reading->measured = measured_without_error (truth, reading) + gsl_ran_gaussian (rng, u);
    }
}

static double
true_value (const Truth *truth, const TrammelParameter *parameter)
{
  int axis = parameter->axes[0] - 'A';

  switch (parameter->kind)
    {
    case TRAMMEL_PARAMETER_SCALE:
      return truth->scale[axis];
    case TRAMMEL_PARAMETER_SKEW:
      return parameter->axes[1] == 'Y' ? truth->skew_xy : parameter->axes[0] == 'X' ? truth->skew_xz : truth->skew_yz;
    case TRAMMEL_PARAMETER_SHRINK:
      return truth->shrink;
    case TRAMMEL_PARAMETER_BEAD:
      return truth->bead;
    case TRAMMEL_PARAMETER_FOOT:
      return truth->foot;
    case TRAMMEL_PARAMETER_LASH:
      return truth->lash[axis];
    case TRAMMEL_PARAMETER_INSTRUMENT:
      return 0;
    case TRAMMEL_PARAMETER_DATUM:
    default:
      return truth->datum[axis][strstr (parameter->name, sets[1]) ? 1 : strstr (parameter->name, sets[2]) ? 2 : 0];
    }
}

static Tally *
tally_for (Tallies *tallies, const char *name)
{
  for (guint i = 0; i < tallies->n; i++)
    if (strcmp (tallies->tallies[i].name, name) == 0)
      return &tallies->tallies[i];
  g_assert_cmpuint (tallies->n, <, G_N_ELEMENTS (tallies->tallies));
  tallies->tallies[tallies->n].name = g_intern_string (name);
  return &tallies->tallies[tallies->n++];
}

static void
try_machine (gsl_rng *rng, TrammelScatter scatter, Tallies *tallies)
{
  Truth truth;
  TrammelAdjustmentInput input = { 0 };
  g_autoptr (GArray) rows = plan (rng, scatter);
  gsize n;

  draw_truth (rng, &truth);
  measure (rng, &truth, scatter, rows);
  input.axes = "XYZEA";
  input.readings = (const TrammelReading *)(gpointer)rows->data;
  input.n_readings = rows->len;
  input.scatter = scatter;
  g_autoptr (TrammelAdjustment) adjustment = trammel_adjustment_new (&input, NULL, NULL);
  if (adjustment == NULL)
    {
      tallies->failed++;
      return;
    }
  tallies->birge += trammel_adjustment_birge (adjustment) > 1;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    {
      Tally *tally = tally_for (tallies, parameters[i].name);
      double value = true_value (&truth, &parameters[i]);
      tally->machines++;
      tally->held += parameters[i].low <= value && value <= parameters[i].high;
    }
}

static int
report (const Tallies *tallies, const char *scatter, guint machines, guint *test)
{
  int failed = 0;

  printf ("# %s: %u machines, %u with a Birge ratio\n", scatter, machines, tallies->birge);
  for (guint i = 0; i < tallies->n; i++)
    {
      const Tally *tally = &tallies->tallies[i];
      double share = (double)tally->held / tally->machines;
      gboolean good = share >= LEAST && share <= MOST;
      gboolean told = tally->machines >= ENOUGH;
      printf ("%s %u - %s %s: %.2f %% of %u%s\n", good || !told ? "ok" : "not ok", ++*test, scatter, tally->name,
              100 * share, tally->machines, told ? "" : " # SKIP too few machines");
      failed += !good && told;
    }
  printf ("%s %u - %s: every set could be adjusted\n", tallies->failed == 0 ? "ok" : "not ok", ++*test, scatter);
  return failed + (tallies->failed > 0);
}

int
main (int argc, char **argv)
{
  static const char *const names[] = { "stated", "estimated" };
  guint machines = argc > 1 ? (guint)strtoul (argv[1], NULL, 10) : 10000;
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  guint test = 0;
  int failed = 0;

  gsl_rng_set (rng, argc > 2 ? strtoul (argv[2], NULL, 10) : 1);
  for (int scatter = TRAMMEL_SCATTER_STATED; scatter <= TRAMMEL_SCATTER_ESTIMATED; scatter++)
    {
      Tallies tallies = { 0 };
      for (guint i = 0; i < machines; i++)
        try_machine (rng, (TrammelScatter)scatter, &tallies);
      failed += report (&tallies, names[scatter], machines, &test);
    }
  printf ("1..%u\n", test);
  gsl_rng_free (rng);
  return failed ? 1 : 0;
}
