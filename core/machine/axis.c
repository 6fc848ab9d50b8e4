/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/axis-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "drive/load.h"
#include "drive/motor.h"
#include "drive/output.h"

/* 1 km, or that many degrees: more than any machine travels, and far from what a double cannot count. */
#define MOST_TRAVEL 1e6

struct _TrammelAxis
{
  gatomicrefcount references;
  char letter;
  TrammelAxisKind kind;
  gboolean has_travel;
  TrammelQuantity travel;
  TrammelTrain *train;
  TrammelRecord *load; /* NULL: none */
  double in_force;     /* NaN: the nominal */
  double in_force_u;
  char *extra;
  char *in_force_extra;
};

static const struct
{
  const char *key;
  const char *label;
} kinds[] = {
  [TRAMMEL_AXIS_LINEAR] = { "linear", N_ ("linear") },
  [TRAMMEL_AXIS_ROTARY] = { "rotary", N_ ("rotary") },
  [TRAMMEL_AXIS_FEED] = { "feed", N_ ("feed") },
};

const char *
trammel_axis_kind_key (TrammelAxisKind kind)
{
  g_return_val_if_fail (kind < G_N_ELEMENTS (kinds), NULL);
  return kinds[kind].key;
}

const char *
trammel_axis_kind_label (TrammelAxisKind kind)
{
  g_return_val_if_fail (kind < G_N_ELEMENTS (kinds), NULL);
  return _ (kinds[kind].label);
}

static TrammelRecord *
with_initial_text (TrammelRecord *record, const char *key, const char *text)
{
  TrammelRecord *changed = trammel_record_with_text (record, key, text, NULL, NULL);

  g_return_val_if_fail (changed != NULL, record);
  trammel_record_unref (record);
  return changed;
}

static TrammelRecord *
initial_output (TrammelAxisKind kind)
{
  TrammelRecord *output;

  if (kind == TRAMMEL_AXIS_ROTARY)
    return trammel_record_new (trammel_output_kind ("table"));
  if (kind == TRAMMEL_AXIS_FEED)
    return with_initial_text (trammel_record_new (trammel_output_kind ("roller")), "diameter", "8 mm");
  output = with_initial_text (trammel_record_new (trammel_output_kind ("screw")), "pitch", "2 mm");
  return with_initial_text (output, "starts", "4");
}

static TrammelTrain *
initial_train (TrammelAxisKind kind)
{
  g_autoptr (TrammelRecord) motor = trammel_record_new (trammel_motor_kind ("stepper"));
  g_autoptr (TrammelRecord) output = initial_output (kind);

  motor = with_initial_text (g_steal_pointer (&motor), "full_steps", "200");
  motor = with_initial_text (g_steal_pointer (&motor), "microsteps", "16");
  return trammel_train_new (motor, output, FALSE);
}

TrammelAxis *
trammel_axis_new (char letter, TrammelAxisKind kind)
{
  TrammelAxis *axis;

  g_return_val_if_fail (g_ascii_isupper (letter) && kind < G_N_ELEMENTS (kinds), NULL);

  axis = g_new0 (TrammelAxis, 1);
  g_atomic_ref_count_init (&axis->references);
  axis->letter = letter;
  axis->kind = kind;
  axis->train = initial_train (kind);
  axis->in_force = NAN;
  return axis;
}

TrammelAxis *
trammel_axis_ref (const TrammelAxis *axis)
{
  TrammelAxis *shared = (TrammelAxis *)axis;

  g_return_val_if_fail (axis != NULL, NULL);
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_axis_unref (TrammelAxis *axis)
{
  if (!axis || !g_atomic_ref_count_dec (&axis->references))
    return;
  trammel_train_unref (axis->train);
  trammel_record_unref (axis->load);
  g_free (axis->extra);
  g_free (axis->in_force_extra);
  g_free (axis);
}

static TrammelAxis *
copy (const TrammelAxis *axis)
{
  TrammelAxis *changed = g_memdup2 (axis, sizeof *axis);

  g_atomic_ref_count_init (&changed->references);
  changed->train = trammel_train_ref (axis->train);
  changed->load = axis->load ? trammel_record_ref (axis->load) : NULL;
  changed->extra = g_strdup (axis->extra);
  changed->in_force_extra = g_strdup (axis->in_force_extra);
  return changed;
}

static gboolean
same_number (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
same_travel (const TrammelAxis *a, const TrammelAxis *b)
{
  if (a->has_travel != b->has_travel)
    return FALSE;
  return !a->has_travel || trammel_quantity_equal (a->travel, b->travel);
}

gboolean
trammel_axis_equal (const TrammelAxis *a, const TrammelAxis *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  if (a == b)
    return TRUE;
  return a->letter == b->letter && a->kind == b->kind && same_travel (a, b) && same_number (a->in_force, b->in_force)
         && a->in_force_u == b->in_force_u && g_strcmp0 (a->extra, b->extra) == 0
         && g_strcmp0 (a->in_force_extra, b->in_force_extra) == 0 && trammel_train_equal (a->train, b->train)
         && trammel_record_equal (a->load, b->load);
}

char
trammel_axis_letter (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, '\0');
  return axis->letter;
}

TrammelAxisKind
trammel_axis_kind (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, TRAMMEL_AXIS_LINEAR);
  return axis->kind;
}

gboolean
trammel_axis_travel (const TrammelAxis *axis, TrammelQuantity *out)
{
  g_return_val_if_fail (axis != NULL, FALSE);
  if (axis->has_travel && out)
    *out = axis->travel;
  return axis->has_travel;
}

/* A travel in degrees comes back as it was typed, not by way of radians. */
static double
in_axis_unit (TrammelAxisKind kind, TrammelQuantity travel)
{
  if (kind != TRAMMEL_AXIS_ROTARY)
    return trammel_quantity_value (travel);
  if (g_strcmp0 (trammel_unit_symbol (travel.unit), "deg") == 0)
    return trammel_exact_to_double (travel.number);
  return trammel_quantity_value (travel) * 180 / G_PI;
}

double
trammel_axis_travel_value (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NAN);
  return axis->has_travel ? in_axis_unit (axis->kind, axis->travel) : NAN;
}

const TrammelTrain *
trammel_axis_train (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);
  return axis->train;
}

const TrammelRecord *
trammel_axis_load (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);
  return axis->load;
}

const char *
trammel_axis_extra (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);
  return axis->extra;
}

gboolean
trammel_axis_set_in_force (const TrammelAxis *axis, double *value, double *u)
{
  g_return_val_if_fail (axis != NULL, FALSE);

  if (isnan (axis->in_force))
    return FALSE;
  if (value)
    *value = axis->in_force;
  if (u)
    *u = axis->in_force_u;
  return TRUE;
}

gboolean
trammel_axis_in_force (const TrammelAxis *axis, double *value, double *u, GError **error)
{
  g_autoptr (TrammelFacts) facts = NULL;

  g_return_val_if_fail (axis != NULL, FALSE);

  if (trammel_axis_set_in_force (axis, value, u))
    return TRUE;
  facts = trammel_train_facts (axis->train, error);
  if (!facts)
    return FALSE;
  if (value)
    *value = trammel_exact_to_double (facts->counts_per_unit);
  if (u)
    *u = 0;
  return TRUE;
}

TrammelAxis *
trammel_axis_with_letter (const TrammelAxis *axis, char letter)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL && g_ascii_isupper (letter), NULL);
  changed = copy (axis);
  changed->letter = letter;
  return changed;
}

TrammelAxis *
trammel_axis_with_kind (const TrammelAxis *axis, TrammelAxisKind kind)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL && kind < G_N_ELEMENTS (kinds), NULL);

  changed = copy (axis);
  changed->kind = kind;
  if ((axis->kind == TRAMMEL_AXIS_ROTARY) != (kind == TRAMMEL_AXIS_ROTARY))
    {
      /* What was told in mm means nothing in degrees. */
      changed->has_travel = FALSE;
      changed->in_force = NAN;
      changed->in_force_u = 0;
      g_clear_pointer (&changed->load, trammel_record_unref);
    }
  if (trammel_output_is_rotary (trammel_train_output (axis->train)) != (kind == TRAMMEL_AXIS_ROTARY))
    {
      g_autoptr (TrammelRecord) output = initial_output (kind);

      trammel_train_unref (changed->train);
      changed->train = trammel_train_with_output (axis->train, output);
    }
  return changed;
}

static gboolean
is_blank (const char *text)
{
  if (!text)
    return TRUE;
  while (g_ascii_isspace (*text))
    text++;
  return *text == '\0';
}

static gboolean
parse_travel (TrammelAxisKind kind, const char *text, const TrammelUnit *assumed, TrammelQuantity *out, GError **error)
{
  TrammelDimension dimension = kind == TRAMMEL_AXIS_ROTARY ? TRAMMEL_DIMENSION_ANGLE : TRAMMEL_DIMENSION_LENGTH;
  double value;

  if (assumed && trammel_unit_dimension (assumed) != dimension)
    assumed = NULL;
  if (!trammel_quantity_parse (text, dimension, assumed, out, error))
    return FALSE;
  value = in_axis_unit (kind, *out);
  if (value > 0 && value <= MOST_TRAVEL)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
               kind == TRAMMEL_AXIS_ROTARY ? _ ("found %s; an angle above 0 and up to %g deg is wanted")
                                           : _ ("found %s; a length above 0 and up to %g mm is wanted"),
               text, MOST_TRAVEL);
  return FALSE;
}

TrammelAxis *
trammel_axis_with_travel (const TrammelAxis *axis, const char *text, const TrammelUnit *assumed, GError **error)
{
  TrammelQuantity travel = { TRAMMEL_EXACT_ZERO, NULL };
  gboolean given = !is_blank (text);
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL, NULL);

  if (given && !parse_travel (axis->kind, text, assumed, &travel, error))
    return NULL;
  changed = copy (axis);
  changed->has_travel = given;
  changed->travel = travel;
  return changed;
}

TrammelAxis *
trammel_axis_with_train (const TrammelAxis *axis, const TrammelTrain *train)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL && train != NULL, NULL);
  changed = copy (axis);
  trammel_train_unref (changed->train);
  changed->train = trammel_train_ref (train);
  return changed;
}

TrammelAxis *
trammel_axis_with_load (const TrammelAxis *axis, const TrammelRecord *load)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL, NULL);
  g_return_val_if_fail (!load || trammel_record_kind (load) == trammel_load_kind (axis->kind == TRAMMEL_AXIS_ROTARY),
                        NULL);
  changed = copy (axis);
  g_clear_pointer (&changed->load, trammel_record_unref);
  changed->load = load ? trammel_record_ref (load) : NULL;
  return changed;
}

TrammelAxis *
trammel_axis_with_in_force (const TrammelAxis *axis, double value, double u)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL, NULL);
  g_return_val_if_fail (isnan (value) || (isfinite (value) && value > 0 && isfinite (u) && u >= 0), NULL);

  changed = copy (axis);
  changed->in_force = value;
  changed->in_force_u = isnan (value) ? 0 : u;
  return changed;
}

TrammelAxis *
trammel_axis_with_extra (const TrammelAxis *axis, const char *extra)
{
  TrammelAxis *changed;

  g_return_val_if_fail (axis != NULL, NULL);
  changed = copy (axis);
  g_free (changed->extra);
  changed->extra = g_strdup (extra);
  return changed;
}

const char *
trammel_axis_in_force_extra (const TrammelAxis *axis)
{
  return axis->in_force_extra;
}

TrammelAxis *
trammel_axis_with_in_force_extra (const TrammelAxis *axis, const char *extra)
{
  TrammelAxis *changed = copy (axis);

  g_free (changed->in_force_extra);
  changed->in_force_extra = g_strdup (extra);
  return changed;
}

gboolean
trammel_axis_check (const TrammelAxis *axis, GError **error)
{
  gboolean rotary_output;

  g_return_val_if_fail (axis != NULL, FALSE);

  if (!trammel_train_check (axis->train, error))
    return FALSE;
  rotary_output = trammel_output_is_rotary (trammel_train_output (axis->train));
  if (rotary_output == (axis->kind == TRAMMEL_AXIS_ROTARY))
    return TRUE;
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                       rotary_output ? _ ("output: found a rotary table; an output that moves along a line is wanted")
                                     : _ ("output: a rotary axis wants a rotary table"));
  return FALSE;
}

const char *
trammel_axis_unit (const TrammelAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);
  return axis->kind == TRAMMEL_AXIS_ROTARY ? "deg" : "mm";
}
