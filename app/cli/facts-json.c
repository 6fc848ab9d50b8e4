/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cli/facts.h"
#include "cli/json-text.h"
#include "draw/duty-sentences.h"
#include "drive/needs.h"
#include "drive/output.h"
#include "drive/resolution.h"
#include "drive/rotor.h"
#include "drive/stage.h"

#define RPM (30 / G_PI)
#define DEGREES (180 / G_PI)

static const char *
limit_key (TrammelLimit limit)
{
  static const char *const keys[] = {
    [TRAMMEL_LIMIT_NONE] = NULL,
    [TRAMMEL_LIMIT_MOTOR_SPEED] = "motor_speed",
    [TRAMMEL_LIMIT_COUNT_RATE] = "count_rate",
    [TRAMMEL_LIMIT_WHIRL] = "whirl",
    [TRAMMEL_LIMIT_TORQUE] = "torque",
  };

  return keys[limit];
}

static const char *
power_loss_key (TrammelPowerLoss loss)
{
  static const char *const keys[] = {
    [TRAMMEL_POWER_LOSS_UNKNOWN] = NULL,    [TRAMMEL_POWER_LOSS_STAYS] = "stays",
    [TRAMMEL_POWER_LOSS_DRAG] = "drag",     [TRAMMEL_POWER_LOSS_LOCKED] = "locked",
    [TRAMMEL_POWER_LOSS_DETENT] = "detent", [TRAMMEL_POWER_LOSS_FALLS] = "falls",
  };

  return keys[loss];
}

static const char *
torque_source_key (TrammelTorqueSource source)
{
  static const char *const keys[] = {
    [TRAMMEL_TORQUE_UNKNOWN] = NULL,
    [TRAMMEL_TORQUE_POINTS] = "torque_points",
    [TRAMMEL_TORQUE_GIVEN] = "torque",
    [TRAMMEL_TORQUE_HOLDING] = "holding_torque",
  };

  return keys[source];
}

/* As the file names it, below the axis: stage, or n_stages for the output. */
static char *
part_place (const TrammelBench *bench, gsize part)
{
  return part + 1 < bench->facts->n_shafts ? trammel_needs_stage_place (part) : g_strdup ("output");
}

static void
put_travels (JsonText *json, const TrammelBench *bench)
{
  const TrammelFacts *facts = bench->facts;
  g_autofree char *exact = trammel_exact_to_fraction (facts->counts_per_unit);

  json_text_open (json, "counts_per_unit", '{');
  json_text_string (json, "exact", exact);
  json_text_integer (json, "pi", facts->counts_per_unit.pi);
  json_text_number (json, "value", trammel_exact_to_double (facts->counts_per_unit));
  json_text_close (json, '}');
  json_text_number (json, "travel_per_count", facts->travel_per_count);
  json_text_number (json, "travel_per_full_step", facts->travel_per_full_step);
  json_text_number (json, "travel_per_motor_turn", facts->travel_per_motor_turn);
  json_text_number (json, "travel_per_tooth", bench->travel_per_tooth);
  json_text_integer (json, "direction", facts->direction);
}

static void
put_speeds (JsonText *json, const TrammelBench *bench)
{
  json_text_open (json, "speed", '{');
  json_text_number (json, "wanted", bench->duty->speed);
  json_text_number (json, "top", bench->top_speed);
  json_text_string (json, "limit", limit_key (bench->limit));
  json_text_number (json, "motor_speed", bench->facts->top_speed_motor);
  json_text_number (json, "count_rate", bench->facts->top_speed_rate);
  json_text_number (json, "torque", bench->duty->top_speed_torque);
  json_text_number (json, "whirl", bench->facts->top_speed_whirl);
  json_text_close (json, '}');
}

static void
put_forces (JsonText *json, const TrammelDuty *duty)
{
  json_text_open (json, "force", '{');
  json_text_number (json, "weight", duty->weight);
  json_text_number (json, "start", duty->force_start);
  json_text_number (json, "run", duty->force_run);
  json_text_number (json, "raise", duty->force_raise);
  json_text_number (json, "lower", duty->force_lower);
  json_text_number (json, "holds", duty->force_holds);
  json_text_close (json, '}');
  json_text_open (json, "torque", '{');
  json_text_number (json, "start", duty->torque_start);
  json_text_number (json, "run", duty->torque_run);
  json_text_number (json, "raise", duty->torque_raise);
  json_text_number (json, "lower", duty->torque_lower);
  json_text_number (json, "available", duty->torque_available);
  json_text_string (json, "source", torque_source_key (duty->torque_source));
  json_text_number (json, "margin", duty->margin);
  json_text_close (json, '}');
  json_text_open (json, "acceleration", '{');
  json_text_number (json, "wanted", duty->acceleration);
  json_text_number (json, "largest", duty->acceleration_largest);
  json_text_close (json, '}');
}

static void
put_inertia (JsonText *json, const TrammelBench *bench)
{
  const TrammelDuty *duty = bench->duty;

  json_text_open (json, "inertia", '{');
  json_text_number (json, "load", duty->inertia_load);
  json_text_number (json, "parts", duty->inertia_parts);
  json_text_number (json, "total", duty->inertia);
  json_text_flag (json, "partial", duty->inertia_partial);
  json_text_open (json, "rotors", '[');
  for (guint i = 0; i < duty->rotors->len; i++)
    {
      const TrammelRotor *rotor = &g_array_index (duty->rotors, TrammelRotor, i);
      g_autofree char *place = rotor->part == 0 ? g_strdup ("motor") : part_place (bench, rotor->part - 1);

      json_text_open (json, NULL, '{');
      json_text_string (json, "part", place);
      json_text_string (json, "role", rotor->role);
      json_text_number (json, "inertia", rotor->inertia);
      json_text_number (json, "reflected", rotor->reflected);
      json_text_flag (json, "given", rotor->given);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
  json_text_close (json, '}');
}

static void
put_power_loss (JsonText *json, const TrammelBench *bench)
{
  const gboolean locked = bench->duty->power_loss == TRAMMEL_POWER_LOSS_LOCKED;
  g_autofree char *place = locked ? part_place (bench, bench->duty->locked_by) : NULL;

  json_text_open (json, "power_loss", '{');
  json_text_string (json, "state", power_loss_key (bench->duty->power_loss));
  json_text_string (json, "locked_by", place);
  json_text_close (json, '}');
}

static void
put_steps (JsonText *json, const TrammelBench *bench)
{
  json_text_open (json, "pull_off", '{');
  json_text_number (json, "travel", bench->pull_off);
  json_text_number (json, "full_steps", bench->pull_off_steps);
  json_text_number (json, "counts", bench->pull_off_counts);
  json_text_number (json, "microstep_torque", bench->microstep_torque);
  json_text_close (json, '}');
  json_text_open (json, "layer_heights", '[');
  for (guint i = 0; i < bench->layers->len; i++)
    {
      const TrammelLayer *layer = &g_array_index (bench->layers, TrammelLayer, i);

      json_text_open (json, NULL, '{');
      json_text_number (json, "height", layer->height);
      json_text_integer (json, "full_steps", layer->full_steps);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
put_efficiency (JsonText *json, TrammelEfficiency efficiency)
{
  json_text_number (json, "efficiency", efficiency.forward);
  json_text_number (json, "efficiency_back", efficiency.backward);
  if (isnan (efficiency.backward))
    json_text_null (json, "self_locking");
  else
    json_text_flag (json, "self_locking", efficiency.backward <= 0);
}

static void
put_play_part (JsonText *json, const TrammelPlayPart *part)
{
  json_text_number (json, "play", part->travel);
  json_text_number (json, "play_share", part->share);
}

static void
put_loop (JsonText *json, const TrammelBenchLoop *loop)
{
  json_text_open (json, "loop", '{');
  json_text_number (json, "center", loop->center);
  json_text_number (json, "pitches", loop->pitches);
  json_text_number (json, "length", loop->pitches * loop->loop.pitch);
  json_text_number (json, "needed_center", loop->needed_center);
  json_text_number (json, "teeth_in_mesh", loop->teeth_in_mesh);
  json_text_integer (json, "least_teeth_in_mesh", TRAMMEL_LOOP_LEAST_TEETH);
  json_text_open (json, "choices", '[');
  for (gsize i = 0; i < loop->n_choices; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_integer (json, "pitches", loop->choices[i].pitches);
      json_text_number (json, "length", loop->choices[i].length);
      json_text_number (json, "center", loop->choices[i].center);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
  json_text_close (json, '}');
}

static const TrammelBenchLoop *
loop_of_stage (const TrammelBench *bench, gsize stage)
{
  for (gsize i = 0; i < bench->n_loops; i++)
    if (bench->loops[i].stage == stage)
      return &bench->loops[i];
  return NULL;
}

static void
put_stages (JsonText *json, const TrammelTrain *train, const TrammelBench *bench)
{
  json_text_open (json, "stages", '[');
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    {
      const TrammelRecord *stage = trammel_train_stage (train, i);
      const TrammelBenchLoop *loop = loop_of_stage (bench, i);
      TrammelExact ratio = TRAMMEL_EXACT_ONE;

      trammel_stage_ratio (stage, &ratio, NULL);
      json_text_open (json, NULL, '{');
      json_text_string (json, "type", trammel_record_kind (stage)->type);
      json_text_number (json, "ratio", trammel_exact_to_double (ratio));
      put_efficiency (json, trammel_stage_efficiency (stage));
      json_text_number (json, "travel_per_tooth", trammel_stage_travel_per_tooth (train, bench->facts, i));
      json_text_number (json, "travel_per_turn", bench->facts->shafts[i + 1].travel_per_turn);
      put_play_part (json, &bench->play->parts[i]);
      if (loop)
        put_loop (json, loop);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
put_thread (JsonText *json, const TrammelBenchScrew *found)
{
  json_text_number (json, "mean_diameter", found->screw.mean);
  json_text_number (json, "lead", found->screw.lead);
  json_text_number (json, "half_angle", found->screw.half_angle * DEGREES);
  json_text_number (json, "friction", found->screw.friction);
  json_text_number (json, "collar_friction", found->screw.collar_friction);
  json_text_number (json, "collar_diameter", found->screw.collar_diameter);
  json_text_number (json, "raising_per_newton", trammel_screw_raising (&found->screw));
  json_text_number (json, "lowering_per_newton", trammel_screw_lowering (&found->screw));
  json_text_number (json, "torque_raise", found->torque_raise);
  json_text_number (json, "torque_lower", found->torque_lower);
  json_text_number (json, "efficiency", trammel_screw_efficiency (&found->screw));
  json_text_flag (json, "thread_locks", found->self_locking);
  json_text_flag (json, "self_locking", trammel_screw_lowering (&found->screw) >= 0);
}

static void
put_slender (JsonText *json, const TrammelBenchScrew *found)
{
  json_text_number (json, "root_diameter", found->bar.diameter);
  json_text_number (json, "free_length", found->bar.length);
  json_text_number (json, "whirl_rpm", found->whirl * RPM);
  json_text_number (json, "whirl_speed", found->whirl_speed);
  json_text_number (json, "usable_speed", TRAMMEL_SLENDER_MARGIN * found->whirl_speed);
  json_text_number (json, "slenderness", trammel_bar_slenderness (&found->bar));
  json_text_number (json, "slenderness_limit", trammel_bar_slenderness_limit (&found->bar));
  json_text_string (json, "column", found->slender ? "euler" : "johnson");
  json_text_number (json, "buckling_load", found->buckling);
  json_text_number (json, "usable_load", TRAMMEL_SLENDER_MARGIN * found->buckling);
  json_text_number (json, "push", found->push);
}

static void
put_output (JsonText *json, const TrammelTrain *train, const TrammelBench *bench)
{
  const TrammelRecord *output = trammel_train_output (train);

  json_text_open (json, "output", '{');
  json_text_string (json, "type", trammel_record_kind (output)->type);
  put_efficiency (json, trammel_output_efficiency (output));
  put_play_part (json, &bench->play->parts[bench->play->n_parts - 1]);
  json_text_close (json, '}');
  if (!bench->has_screw)
    {
      json_text_null (json, "screw");
      return;
    }
  json_text_open (json, "screw", '{');
  if (bench->screw.known)
    put_thread (json, &bench->screw);
  if (bench->screw.slender_known)
    put_slender (json, &bench->screw);
  json_text_close (json, '}');
}

static void
put_play (JsonText *json, const CliAxisFacts *facts)
{
  json_text_open (json, "play", '{');
  json_text_number (json, "worst", facts->bench->play->worst);
  json_text_number (json, "rss", facts->bench->play->rss);
  json_text_flag (json, "partial", facts->bench->play->partial);
  if (isnan (facts->lash))
    json_text_null (json, "found");
  else
    {
      json_text_open (json, "found", '{');
      json_text_number (json, "value", facts->lash);
      json_text_number (json, "u", facts->lash_u);
      json_text_close (json, '}');
    }
  json_text_close (json, '}');
}

static void
put_needs (JsonText *json, const CliAxisFacts *facts, const char *key, gboolean taken)
{
  json_text_open (json, key, '[');
  for (guint i = 0; i < facts->bench->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (facts->bench->needs, i);
      g_autofree char *words = NULL;

      if ((need->taken != NULL) != taken)
        continue;
      words = trammel_sentences_need (trammel_axis_train (facts->axis), need);
      json_text_open (json, NULL, '{');
      json_text_string (json, "key", need->place);
      if (taken)
        json_text_string (json, "taken", need->taken);
      json_text_string (json, "words", words);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
put_cautions (JsonText *json, const CliAxisFacts *facts)
{
  g_autoptr (GPtrArray) cautions = trammel_sentences_cautions (facts->axis, facts->bench);

  json_text_open (json, "cautions", '[');
  for (guint i = 0; i < cautions->len; i++)
    json_text_string (json, NULL, g_ptr_array_index (cautions, i));
  json_text_close (json, ']');
}

static void
put_axis (JsonText *json, const CliAxisFacts *facts)
{
  const TrammelBench *bench = facts->bench;
  const TrammelTrain *train = trammel_axis_train (facts->axis);
  const char letter[] = { trammel_axis_letter (facts->axis), '\0' };

  json_text_open (json, NULL, '{');
  json_text_string (json, "letter", letter);
  json_text_string (json, "kind", trammel_axis_kind_key (trammel_axis_kind (facts->axis)));
  json_text_string (json, "unit", trammel_axis_unit (facts->axis));
  put_travels (json, bench);
  put_speeds (json, bench);
  put_forces (json, bench->duty);
  json_text_number (json, "efficiency", bench->duty->efficiency);
  json_text_number (json, "efficiency_back", bench->duty->efficiency_back);
  put_inertia (json, bench);
  put_power_loss (json, bench);
  put_steps (json, bench);
  put_stages (json, train, bench);
  put_output (json, train, bench);
  put_play (json, facts);
  put_needs (json, facts, "missing", FALSE);
  put_needs (json, facts, "assumed", TRUE);
  put_cautions (json, facts);
  json_text_close (json, '}');
}

void
cli_facts_print_json (const GArray *axes)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "axes", '[');
  for (guint i = 0; i < axes->len; i++)
    put_axis (&json, &g_array_index (axes, CliAxisFacts, i));
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}
