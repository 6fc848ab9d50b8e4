/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/bench.h"

#include "drive/load.h"
#include "drive/needs.h"
#include "drive/output.h"
#include "drive/resolution.h"

#include <math.h>

static void
find_top_speed (TrammelBench *bench)
{
  bench->top_speed = bench->facts->top_speed;
  bench->limit = bench->facts->limit;
  if (isnan (bench->duty->top_speed_torque) || bench->duty->top_speed_torque >= bench->top_speed)
    return;
  bench->top_speed = bench->duty->top_speed_torque;
  bench->limit = TRAMMEL_LIMIT_TORQUE;
}

static void
find_steps (const TrammelTrain *train, TrammelBench *bench)
{
  const TrammelRecord *motor = trammel_train_motor (train);
  const gint64 counts = trammel_motor_counts_per_full_step (motor);
  const double holding = trammel_record_value (motor, "holding_torque");

  bench->travel_per_tooth = trammel_output_travel_per_tooth (trammel_train_output (train));
  bench->pull_off_steps = bench->pull_off = bench->pull_off_counts = bench->microstep_torque = NAN;
  bench->layers = trammel_layer_heights (bench->facts->rotary ? NAN : bench->facts->travel_per_full_step);
  if (counts == 0)
    return;
  if (isnan (holding))
    trammel_needs_add (bench->needs, "motor", trammel_record_kind (motor), "holding_torque", NULL);
  bench->pull_off_steps = trammel_stepper_pull_off (fmax (0, bench->duty->torque_run), holding);
  if (isnan (bench->duty->torque_run))
    bench->pull_off_steps = NAN;
  bench->pull_off = bench->pull_off_steps * bench->facts->travel_per_full_step;
  bench->pull_off_counts = bench->pull_off_steps * (double)counts;
  bench->microstep_torque = trammel_stepper_microstep_torque (holding, counts);
}

static void
need_steel (TrammelBench *bench, const TrammelRecord *output, const char *key, double value, const char *unit)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *taken = g_strdup_printf ("%s %s", g_ascii_formatd (number, sizeof number, "%.6g", value), unit);
  if (!trammel_record_has (output, key))
    trammel_needs_add (bench->needs, "output", trammel_record_kind (output), key, taken);
}

/* What was taken for the material of a screw, as far as the numbers depend on it. */
static void
need_material (TrammelBench *bench, const TrammelRecord *output, const TrammelBenchScrew *found)
{
  need_steel (bench, output, "modulus", TRAMMEL_STEEL_MODULUS / 1000, "GPa");
  if (!found->slender)
    need_steel (bench, output, "yield", TRAMMEL_STEEL_YIELD, "MPa");
  if (found->turns)
    need_steel (bench, output, "density", TRAMMEL_STEEL_DENSITY, "kg/m³");
}

static void
find_slender (const TrammelRecord *output, TrammelBench *bench, TrammelBenchScrew *found)
{
  const TrammelRecordKind *kind = trammel_record_kind (output);
  found->turns = trammel_screw_turns (output);
  found->slender_known = trammel_bar_from_output (output, &found->bar);
  if (!trammel_record_has (output, "length"))
    trammel_needs_add (bench->needs, "output", kind, "length", NULL);
  if (!trammel_record_has (output, "fixity"))
    trammel_needs_add (bench->needs, "output", kind, "fixity", "supported-supported");
  if (!trammel_record_has (output, "root") && !trammel_record_has (output, "major"))
    trammel_needs_add (bench->needs, "output", kind, "major", NULL);
  found->whirl = found->whirl_speed = found->buckling = NAN;
  if (!found->slender_known)
    return;

  found->slender = trammel_bar_slenderness (&found->bar) > trammel_bar_slenderness_limit (&found->bar);
  need_material (bench, output, found);
  found->buckling = trammel_bar_buckling (&found->bar);
  if (!found->turns)
    return;
  found->whirl = trammel_bar_whirl (&found->bar);
  found->whirl_speed = bench->facts->whirl_speed;
}

static void
find_screw (const TrammelTrain *train, TrammelBench *bench)
{
  const TrammelRecord *output = trammel_train_output (train);
  TrammelBenchScrew *found = &bench->screw;

  bench->has_screw = trammel_record_is (output, "screw");
  if (!bench->has_screw)
    return;
  const double raise = bench->duty->force_raise, lower = bench->duty->force_lower;
  found->known = trammel_screw_from_output (output, &found->screw);
  found->told_by_efficiency = trammel_screw_is_told_by_efficiency (output);
  found->torque_raise = found->torque_lower = NAN;
  if (found->known)
    {
      const double raising = trammel_screw_raising (&found->screw), lowering = trammel_screw_lowering (&found->screw);
      found->torque_raise = raise * raising;
      found->torque_lower = lower > 0 ? lower * raising : -lower * lowering;
      found->self_locking = trammel_screw_is_self_locking (&found->screw);
    }
  found->push = fmax (bench->duty->force_start, bench->duty->force_run) / trammel_record_value (output, "count");
  find_slender (output, bench, found);
}

static void
find_loop (const TrammelRecord *stage, gsize i, TrammelBench *bench)
{
  TrammelBenchLoop found = { .stage = i };
  g_autofree char *place = trammel_needs_stage_place (i);

  if (!trammel_loop_from_stage (stage, &found.loop))
    return;
  const double center = trammel_record_value (stage, "center");
  const double pitches = trammel_loop_pitches_of_stage (stage);
  found.center = trammel_loop_center_of_stage (stage);
  found.needed_center = isnan (center) ? NAN : trammel_loop_center (&found.loop, pitches * found.loop.pitch);
  found.pitches = isnan (pitches) ? trammel_loop_length (&found.loop, center) / found.loop.pitch : pitches;
  found.teeth_in_mesh = trammel_loop_teeth_in_mesh (&found.loop, found.center);
  found.n_choices = trammel_loop_choices (&found.loop, found.center, trammel_record_is (stage, "chain"), found.choices);
  if (isnan (center) && isnan (pitches))
    trammel_needs_add (bench->needs, place, trammel_record_kind (stage), "center", NULL);
  bench->loops[bench->n_loops++] = found;
}

TrammelBench *
trammel_bench_new (const TrammelTrain *train, const TrammelRecord *load, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelBench) bench = g_new0 (TrammelBench, 1);
  bench->facts = trammel_train_facts (train, error);
  bench->duty = bench->facts != NULL ? trammel_duty_new (train, load, error) : NULL;
  bench->play = bench->duty != NULL ? trammel_play_new (train, error) : NULL;
  if (bench->play == NULL)
    return NULL;

  bench->needs = trammel_needs_new ();
  bench->loops = g_new0 (TrammelBenchLoop, trammel_train_n_stages (train) + 1);
  trammel_needs_add_all (bench->needs, bench->duty->needs);
  trammel_needs_add_all (bench->needs, bench->play->needs);
  find_top_speed (bench);
  find_steps (train, bench);
  find_screw (train, bench);
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    find_loop (trammel_train_stage (train, i), i, bench);
  return g_steal_pointer (&bench);
}

void
trammel_bench_free (TrammelBench *bench)
{
  if (bench == NULL)
    return;
  trammel_facts_free (bench->facts);
  trammel_duty_free (bench->duty);
  trammel_play_free (bench->play);
  g_clear_pointer (&bench->layers, g_array_unref);
  g_clear_pointer (&bench->needs, g_ptr_array_unref);
  g_free (bench->loops);
  g_free (bench);
}

gboolean
trammel_bench_may_whirl (const TrammelBench *bench)
{
  g_return_val_if_fail (bench != NULL, FALSE);

  if (!bench->has_screw || isnan (bench->screw.whirl_speed))
    return FALSE;
  const double usable = TRAMMEL_SLENDER_MARGIN * bench->screw.whirl_speed;
  if (!isnan (bench->duty->speed))
    return bench->duty->speed > usable;
  return bench->limit == TRAMMEL_LIMIT_WHIRL;
}

gboolean
trammel_bench_may_buckle (const TrammelBench *bench)
{
  g_return_val_if_fail (bench != NULL, FALSE);

  return bench->has_screw && bench->screw.push > TRAMMEL_SLENDER_MARGIN * bench->screw.buckling;
}
