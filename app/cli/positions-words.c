/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/positions.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/console.h"
#include "draw/cycle-sentences.h"
#include "draw/display.h"
#include "draw/position-names.h"

static void
append_cell (GString *text, double value, const TrammelUnit *unit)
{
  g_autofree char *shown = trammel_display_travel (value, unit);

  for (glong i = g_utf8_strlen (shown, -1); i < 14; i++)
    g_string_append_c (text, ' ');
  g_string_append (text, shown);
}

/* With the combining line of B̄ not counted. */
static void
append_symbol (GString *text, const char *symbol)
{
  g_string_append (text, symbol);
  for (glong i = g_utf8_strlen (symbol, -1) - (strstr (symbol, "\u0304") ? 1 : 0); i < 2; i++)
    g_string_append_c (text, ' ');
}

static void
append_figures (GString *text, const TrammelPositionFigures *before, const TrammelPositionFigures *after,
                const TrammelUnit *unit)
{
  gsize n;
  const TrammelPositionName *names = trammel_position_names (&n);

  g_string_append_printf (text, "  %14s%14s\n", _ ("measured"), _ ("corrected"));
  for (gsize i = 0; i < n; i++)
    {
      if (isnan (trammel_position_figure (before, &names[i])))
        continue;
      append_symbol (text, names[i].symbol);
      append_cell (text, trammel_position_figure (before, &names[i]), unit);
      append_cell (text, trammel_position_figure (after, &names[i]), unit);
      g_string_append_printf (text, "  %s\n", _ (names[i].meaning));
    }
}

static void
append_line (GString *text, const TrammelPositionLine *line, const TrammelUnit *unit)
{
  g_autofree char *scale = trammel_display_number (100 * fabs (line->scale_error), 4);
  g_autofree char *lash = trammel_display_travel (line->lash, unit);

  if (isnan (line->scale_error))
    return;
  g_string_append_printf (text, line->scale_error < 0 ? _ ("It moves %s %% short.") : _ ("It moves %s %% too far."),
                          scale);
  if (!isnan (line->lash))
    {
      g_string_append_c (text, ' ');
      g_string_append_printf (text, _ ("Lost motion on reversal: %s."), lash);
    }
  g_string_append_c (text, '\n');
}

static void
append_cycles (GString *text, const TrammelAxisCycles *cycles, const TrammelUnit *unit)
{
  if (!cycles)
    return;
  g_autoptr (GPtrArray) sentences = trammel_sentences_cycles (cycles, unit);
  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "%s\n", (const char *)g_ptr_array_index (sentences, i));
}

void
cli_positions_print_words (const TrammelUnit *unit, const TrammelPositionSet *set, const TrammelPositions *positions,
                           const TrammelAxisCycles *cycles, const char *remark)
{
  const TrammelPositionFigures before = trammel_positions_before (positions);
  const TrammelPositionFigures after = trammel_positions_after (positions);
  const TrammelPositionLine line = trammel_positions_line (positions);
  const char *const *notes = trammel_positions_notes (positions);
  g_autoptr (GString) text = g_string_new (NULL);
  gsize n;

  trammel_positions_targets (positions, &n);
  g_string_append_printf (text, _ ("%c%s%s: %u targets, %u readings."), set->axis, set->set ? ", " : "",
                          set->set ? set->set : "", (guint)n, (guint)trammel_positions_n_used (positions));
  g_string_append_c (text, '\n');
  append_line (text, &line, unit);
  append_figures (text, &before, &after, unit);
  append_cycles (text, cycles, unit);
  if (remark)
    g_string_append_printf (text, "%s\n", remark);
  for (gsize i = 0; notes[i]; i++)
    g_string_append_printf (text, "%s\n", notes[i]);
  cli_say (stdout, text->str);
}
