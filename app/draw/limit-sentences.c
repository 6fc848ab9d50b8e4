/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/duty-sentences.h"
#include "drive/resolution.h"

#define UPRIGHT_ENOUGH (60 * G_PI / 180)
#define RPM (30 / G_PI)

static char *
with_unit (double value, const char *unit)
{
  g_autofree char *number = trammel_display_significant (value, 3);
  return isnan (value) ? g_steal_pointer (&number) : g_strconcat (number, unit, NULL);
}

char *
trammel_sentences_screw (const TrammelBench *bench)
{
  const TrammelBenchScrew *found = &bench->screw;
  if (!bench->has_screw || !found->known)
    return NULL;

  g_autofree char *efficiency = trammel_display_significant (100 * trammel_screw_efficiency (&found->screw), 2);
  g_autofree char *friction = trammel_display_significant (found->screw.friction, 2);
  const char *holds = found->self_locking                           ? _ ("it locks by its thread")
                      : trammel_screw_lowering (&found->screw) >= 0 ? _ ("only its collar keeps it from running back")
                                                                    : _ ("a load along it drives it backwards");
  return g_strdup_printf (
      found->told_by_efficiency
          ? _ ("The screw turns %s %% of its work into push, as given, which goes with a friction of %s; %s.")
          : _ ("The screw turns %s %% of its work into push, with a friction of %s; %s."),
      efficiency, friction, holds);
}

char *
trammel_sentences_whirl (const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelBenchScrew *found = &bench->screw;
  if (!bench->has_screw || isnan (found->whirl_speed))
    return NULL;

  g_autofree char *turning = with_unit (found->whirl * RPM, " rpm");
  g_autofree char *speed = trammel_sentences_speed (bench, found->whirl_speed, unit);
  g_autofree char *usable = trammel_sentences_speed (bench, TRAMMEL_SLENDER_MARGIN * found->whirl_speed, unit);
  return g_strdup_printf (
      _ ("The screw whirls at %s, which is %s at the carriage; stay below 80 %% of it, %s (common practice)."), turning,
      speed, usable);
}

char *
trammel_sentences_buckling (const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelBenchScrew *found = &bench->screw;
  if (!bench->has_screw || isnan (found->buckling))
    return NULL;

  g_autofree char *load = trammel_sentences_force (bench, found->buckling, unit);
  g_autofree char *usable = trammel_sentences_force (bench, TRAMMEL_SLENDER_MARGIN * found->buckling, unit);
  g_autofree char *push = trammel_sentences_force (bench, found->push, unit);
  g_autofree char *told = g_strdup_printf (
      found->slender
          ? _ ("A push of %s buckles the screw; stay below 80 %% of it, %s (common practice)")
          : _ (
              "A push of %s squashes the screw, which is too short to buckle; stay below 80 %% of it, %s (common practice)"),
      load, usable);
  if (isnan (found->push))
    return g_strdup_printf ("%s.", told);
  return g_strdup_printf (_ ("%s. The axis pushes it with %s."), told, push);
}

static char *
center_text (double mm, const TrammelUnit *unit)
{
  return trammel_display_length (mm, unit, trammel_unit_factor (unit) == 1 ? 2 : 3);
}

static char *
choices_text (const TrammelBenchLoop *loop, const TrammelUnit *unit)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < loop->n_choices; i++)
    {
      g_autofree char *center = center_text (loop->choices[i].center, unit);
      g_string_append (text, i == 0 ? "" : ", ");
      g_string_append_printf (text, _ ("%u at %s"), (guint)loop->choices[i].pitches, center);
    }
  return g_string_free (text, FALSE);
}

static char *
length_text (const TrammelBenchLoop *loop, const TrammelUnit *unit)
{
  g_autofree char *pitches = trammel_display_significant (loop->pitches, 5);
  g_autofree char *center = center_text (loop->center, unit);
  g_autofree char *needed = center_text (loop->needed_center, unit);
  g_autofree char *choices = choices_text (loop, unit);
  if (isnan (loop->center))
    return g_strdup_printf (_ ("with %s teeth or links it is too short for its wheels"), pitches);
  if (!isnan (loop->needed_center))
    return g_strdup_printf (_ ("%s teeth or links want %s between the shafts; %s are given"), pitches, needed, center);
  if (fabs (loop->pitches - round (loop->pitches)) < 1e-6)
    return g_strdup_printf (_ ("%s teeth or links go with %s between the shafts"), pitches, center);
  return g_strdup_printf (_ ("%s between the shafts ask for %s teeth or links; whole lengths: %s"), center, pitches,
                          choices);
}

char *
trammel_sentences_loop (const TrammelTrain *train, const TrammelBench *bench, gsize i, const TrammelUnit *unit)
{
  g_return_val_if_fail (i < bench->n_loops, NULL);

  const TrammelBenchLoop *loop = &bench->loops[i];
  g_autofree char *name = trammel_sentences_part (train, loop->stage + 1);
  if (isnan (loop->center) && isnan (loop->pitches))
    return NULL;

  g_autofree char *length = length_text (loop, unit);
  g_autofree char *mesh = trammel_display_significant (loop->teeth_in_mesh, 3);
  if (isnan (loop->teeth_in_mesh))
    return g_strdup_printf ("%s: %s.", name, length);
  return g_strdup_printf (loop->teeth_in_mesh < TRAMMEL_LOOP_LEAST_TEETH
                              ? _ ("%s: %s. Only %s teeth are in mesh; at least 6 are usual (common practice).")
                              : _ ("%s: %s. %s teeth are in mesh; at least 6 are usual (common practice)."),
                          name, length, mesh);
}

char *
trammel_sentences_steps (const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelFacts *facts = bench->facts;
  g_autofree char *count = trammel_sentences_travel (bench, facts->travel_per_count, unit);
  g_autofree char *step = trammel_sentences_travel (bench, facts->travel_per_full_step, unit);
  g_autofree char *tooth = trammel_sentences_travel (bench, bench->travel_per_tooth, unit);
  g_autofree char *text = isnan (facts->travel_per_full_step)
                              ? g_strdup_printf (_ ("One count moves it by %s"), count)
                              : g_strdup_printf (_ ("One count moves it by %s, one full step by %s"), count, step);
  if (isnan (bench->travel_per_tooth))
    return g_strdup_printf ("%s.", text);
  return g_strdup_printf (_ ("%s; one tooth of the output is %s."), text, tooth);
}

char *
trammel_sentences_pull_off (const TrammelBench *bench, const TrammelUnit *unit)
{
  if (isnan (bench->pull_off))
    return NULL;

  g_autofree char *travel = trammel_sentences_travel (bench, bench->pull_off, unit);
  g_autofree char *counts = trammel_display_significant (bench->pull_off_counts, 2);
  return g_strdup_printf (
      bench->pull_off_counts < 1
          ? _ ("Its load pulls the motor back by %s while it runs, less than one count (%s).")
          : _ (
              "Its load pulls the motor back by %s while it runs, which is %s counts: do not take a count for accuracy."),
      travel, counts);
}

static gboolean
makes_layers (const TrammelAxis *axis)
{
  const TrammelRecord *load = trammel_axis_load (axis);
  if (trammel_axis_kind (axis) != TRAMMEL_AXIS_LINEAR)
    return FALSE;
  return trammel_axis_letter (axis) == 'Z' || (load != NULL && trammel_record_value (load, "slope") > UPRIGHT_ENOUGH);
}

char *
trammel_sentences_layers (const TrammelAxis *axis, const TrammelBench *bench, const TrammelUnit *unit)
{
  if (!makes_layers (axis) || bench->layers->len == 0)
    return NULL;

  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < bench->layers->len; i++)
    {
      const double mm = g_array_index (bench->layers, TrammelLayer, i).height;
      g_autofree char *height = trammel_display_significant (mm / trammel_unit_factor (unit), 4);
      g_string_append_printf (list, "%s%s", i == 0 ? "" : ", ", height);
    }
  return g_strdup_printf (_ ("Layer heights that are whole full steps: %s %s."), list->str, trammel_unit_symbol (unit));
}
