/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/cycle-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

static const TrammelCycle *
cycle_at (const TrammelAxisCycles *cycles, guint i)
{
  return &g_array_index (cycles->cycles, TrammelCycle, i);
}

static const char *
part_of (const TrammelAxisCycles *cycles, const TrammelCycle *cycle)
{
  return g_array_index (cycles->parts, TrammelTurning, cycle->part).name;
}

static char *
guilty (const TrammelAxisCycles *cycles, const TrammelCycle *cycle, const TrammelUnit *unit)
{
  g_autofree char *size = trammel_display_travel (cycle->amplitude, unit);
  g_autofree char *reach = trammel_display_travel ((cycle->high - cycle->low) / 2, unit);
  g_autofree char *text
      = cycle->order == 1
            ? g_strdup_printf (_ ("±%s (± %s) once per turn of the %s: bent, off-center or wobbling."), size, reach,
                               part_of (cycles, cycle))
            : g_strdup_printf (_ ("±%s (± %s) twice per turn of the %s: oval, or a coupling at an angle."), size, reach,
                               part_of (cycles, cycle));

  if (cycle->like < 0)
    return g_steal_pointer (&text);
  return g_strdup_printf (_ ("%s At these targets it looks the same as one of the %s."), text,
                          part_of (cycles, cycle_at (cycles, (guint)cycle->like)));
}

/* What was put aside since it does not keep step with the part. */
static char *
not_guilty (const TrammelAxisCycles *cycles, const TrammelCycle *cycle, const TrammelUnit *unit)
{
  g_autofree char *period = trammel_display_travel (cycle->period, unit);

  return g_strdup_printf (_ ("Something comes back about every %s, as the %s turns, but shifts against it along the "
                             "axis: the %s is not to blame."),
                          period, part_of (cycles, cycle), part_of (cycles, cycle));
}

static char *
unseen_parts (const TrammelAxisCycles *cycles)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < cycles->cycles->len; i++)
    {
      const TrammelCycle *cycle = cycle_at (cycles, i);
      const char *name = part_of (cycles, cycle);
      if (cycle->sight == TRAMMEL_CYCLE_UNSEEN && !g_ptr_array_find (names, name, NULL))
        g_ptr_array_add (names, (gpointer)name);
    }
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **)names->pdata);
}

static void
add_unseen (GPtrArray *sentences, const TrammelAxisCycles *cycles, const TrammelUnit *unit)
{
  if (!trammel_axis_cycles_any_unseen (cycles))
    return;
  g_autofree char *names = unseen_parts (cycles);
  g_ptr_array_add (sentences, g_strdup_printf (_ ("These targets cannot show all that comes back with every turn: they "
                                                  "meet it at the same few angles (%s)."),
                                               names));
  if (!(cycles->coverage > 0.3))
    return;
  g_autofree char *spacing = trammel_display_travel (cycles->spacing, unit);
  g_ptr_array_add (sentences, g_strdup_printf (_ ("Targets %s apart would show it."), spacing));
}

/* A period of no known part is told only when it stands out. */
static void
add_strongest (GPtrArray *sentences, const TrammelAxisCycles *cycles, const TrammelUnit *unit, gboolean any)
{
  if (any || !cycles->has_strongest || !(cycles->strongest.p_value < 0.01))
    return;
  g_autofree char *period = trammel_display_travel (cycles->strongest.period, unit);
  g_autofree char *size = trammel_display_travel (cycles->strongest.amplitude, unit);
  g_ptr_array_add (sentences, g_strdup_printf (_ ("Something comes back every %s (±%s), and no part of the train turns "
                                                  "once in that travel: look at the rail, the belt's joint, the nut."),
                                               period, size));
}

GPtrArray *
trammel_sentences_cycles (const TrammelAxisCycles *cycles, const TrammelUnit *unit)
{
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  gboolean any = FALSE;

  g_return_val_if_fail (cycles != NULL, sentences);

  for (guint i = 0; i < cycles->cycles->len; i++)
    if (cycle_at (cycles, i)->significant)
      {
        g_ptr_array_add (sentences, guilty (cycles, cycle_at (cycles, i), unit));
        any = TRUE;
      }
  for (guint i = 0; i < cycles->cycles->len; i++)
    if (cycle_at (cycles, i)->sight == TRAMMEL_CYCLE_DRIFTS)
      g_ptr_array_add (sentences, not_guilty (cycles, cycle_at (cycles, i), unit));
  if (!any)
    g_ptr_array_add (sentences, g_strdup (_ ("No error that comes back with the turns of a part stands out.")));
  add_strongest (sentences, cycles, unit, any);
  add_unseen (sentences, cycles, unit);
  return sentences;
}
