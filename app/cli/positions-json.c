/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/positions.h"

#include <math.h>

#include "cli/json-text.h"
#include "draw/position-names.h"
#include "measure/compensation.h"

static void
write_side (JsonText *json, const char *key, const TrammelPositionSide *side)
{
  json_text_open (json, key, '{');
  json_text_integer (json, "n", (gint64)side->n);
  json_text_number (json, "mean", side->mean);
  json_text_number (json, "s", side->s);
  json_text_close (json, '}');
}

static void
write_targets (JsonText *json, const TrammelPositionTarget *targets, gsize n)
{
  json_text_open (json, "targets", '[');
  for (gsize i = 0; i < n; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_number (json, "target", targets[i].target);
      write_side (json, "up", &targets[i].up);
      write_side (json, "down", &targets[i].down);
      json_text_number (json, "mean", targets[i].mean);
      json_text_number (json, "reversal", targets[i].reversal);
      json_text_number (json, "repeatability", targets[i].repeatability);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_figures (JsonText *json, const TrammelPositionFigures *of)
{
  gsize n;
  const TrammelPositionName *names = trammel_position_names (&n);

  for (gsize i = 0; i < n; i++)
    json_text_number (json, names[i].key, trammel_position_figure (of, &names[i]));
}

static void
write_state (JsonText *json, const char *key, const TrammelPositionFigures *of, const TrammelPositionTarget *targets,
             gsize n)
{
  json_text_open (json, key, '{');
  write_figures (json, of);
  write_targets (json, targets, n);
  json_text_close (json, '}');
}

static void
write_line (JsonText *json, const TrammelPositionLine *line)
{
  json_text_open (json, "line", '{');
  json_text_number (json, "datum", line->datum);
  json_text_number (json, "scale_error", line->scale_error);
  json_text_number (json, "u_scale_error", line->u_scale_error);
  json_text_number (json, "lash", line->lash);
  json_text_number (json, "u_lash", line->u_lash);
  json_text_number (json, "sigma", line->sigma);
  json_text_integer (json, "dof", line->dof);
  json_text_close (json, '}');
}

static const char *
sight_key (TrammelCycleSight sight)
{
  static const char *const keys[] = { "seen", "unseen", "alike", "drifts" };
  return keys[sight];
}

static void
write_like (JsonText *json, const TrammelAxisCycles *cycles, int like)
{
  if (like < 0)
    {
      json_text_null (json, "like");
      return;
    }
  const TrammelCycle *other = &g_array_index (cycles->cycles, TrammelCycle, (guint)like);
  json_text_open (json, "like", '{');
  json_text_string (json, "part", g_array_index (cycles->parts, TrammelTurning, other->part).name);
  json_text_integer (json, "order", other->order);
  json_text_close (json, '}');
}

static void
write_cycle (JsonText *json, const TrammelAxisCycles *cycles, guint i)
{
  const TrammelCycle *cycle = &g_array_index (cycles->cycles, TrammelCycle, i);

  json_text_open (json, NULL, '{');
  json_text_string (json, "part", g_array_index (cycles->parts, TrammelTurning, cycle->part).name);
  json_text_number (json, "period", cycle->period);
  json_text_integer (json, "order", cycle->order);
  json_text_number (json, "amplitude", cycle->amplitude);
  json_text_number (json, "u", cycle->u);
  json_text_number (json, "low", cycle->low);
  json_text_number (json, "high", cycle->high);
  json_text_number (json, "phase", cycle->phase);
  json_text_number (json, "p_value", cycle->p_value);
  json_text_flag (json, "significant", cycle->significant);
  json_text_string (json, "sight", sight_key (cycle->sight));
  write_like (json, cycles, cycle->like);
  json_text_close (json, '}');
}

static void
write_cycles (JsonText *json, const TrammelAxisCycles *cycles)
{
  json_text_open (json, "cycles", '[');
  for (guint i = 0; cycles && i < cycles->cycles->len; i++)
    write_cycle (json, cycles, i);
  json_text_close (json, ']');
  if (cycles && cycles->has_strongest)
    {
      json_text_open (json, "strongest", '{');
      json_text_number (json, "period", cycles->strongest.period);
      json_text_number (json, "amplitude", cycles->strongest.amplitude);
      json_text_number (json, "p_value", cycles->strongest.p_value);
      json_text_close (json, '}');
    }
  else
    json_text_null (json, "strongest");
  json_text_number (json, "proposed_spacing", cycles ? cycles->spacing : NAN);
}

static void
write_compensation (JsonText *json, const TrammelPositions *positions, const TrammelAxisCycles *cycles)
{
  g_autoptr (GArray) rows = trammel_compensation_table (positions, cycles ? cycles->cycles : NULL);

  json_text_open (json, "compensation", '[');
  for (guint i = 0; i < rows->len; i++)
    {
      const TrammelCompensation *row = &g_array_index (rows, TrammelCompensation, i);

      json_text_open (json, NULL, '{');
      json_text_number (json, "target", row->target);
      json_text_number (json, "correction", row->correction);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

void
cli_positions_print_json (const TrammelPositionSet *set, const TrammelPositions *positions,
                          const TrammelAxisCycles *cycles, const char *remark)
{
  const char axis[] = { set->axis, '\0' };
  const TrammelPositionFigures before = trammel_positions_before (positions);
  const TrammelPositionFigures after = trammel_positions_after (positions);
  const TrammelPositionLine line = trammel_positions_line (positions);
  const char *const *notes = trammel_positions_notes (positions);
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_string (&json, "axis", axis);
  json_text_string (&json, "set", set->set);
  write_targets (&json, targets, n);
  write_figures (&json, &before);
  write_state (&json, "before", &before, targets, n);
  write_state (&json, "after", &after, trammel_positions_targets_after (positions, NULL), n);
  write_line (&json, &line);
  write_cycles (&json, cycles);
  write_compensation (&json, positions, cycles);
  json_text_open (&json, "notes", '[');
  if (remark)
    json_text_string (&json, NULL, remark);
  for (gsize i = 0; notes[i]; i++)
    json_text_string (&json, NULL, notes[i]);
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}
