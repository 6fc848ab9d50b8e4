/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "cli/console.h"
#include "cli/find.h"
#include "draw/display.h"
#include "draw/finder-words.h"

enum
{
  RATIO,
  ERROR,
  GEARS,
  SPAN,
  DIRECTION,
  TRAIN,
  HOLES,
  N_COLUMNS
};

/* The cells of a table, row by row, its head first. */
static void
add_head (GPtrArray *cells, TrammelHoleGrid grid)
{
  g_ptr_array_add (cells, g_strdup (_ ("ratio")));
  g_ptr_array_add (cells, g_strdup (_ ("error")));
  g_ptr_array_add (cells, g_strdup (_ ("gears")));
  g_ptr_array_add (cells, g_strdup (_ ("span")));
  g_ptr_array_add (cells, g_strdup (_ ("last shaft")));
  g_ptr_array_add (cells, g_strdup (_ ("train, driver:driven, motor first")));
  g_ptr_array_add (cells, g_strdup (grid.pitch > 0 ? _ ("from hole to hole, mm") : ""));
}

/* "20 × 20, 30 × 0", mesh by mesh; "" without a plate. */
static char *
places_text (const TrammelFinderTrain *train, TrammelHoleGrid grid)
{
  TrammelMeshOffset places[TRAMMEL_FINDER_MOST_MESHES];
  const gsize n = grid.pitch > 0 ? trammel_finder_places (train, grid, places) : 0;
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *dx = trammel_display_significant (places[i].dx, 5);
      g_autofree char *dy = trammel_display_significant (places[i].dy, 5);

      g_string_append_printf (text, "%s%s × %s", i == 0 ? "" : ", ", dx, dy);
    }
  return g_string_free (text, FALSE);
}

static void
add_train (GPtrArray *cells, const TrammelFinderTrain *train, TrammelHoleGrid grid)
{
  g_autofree char *span = trammel_display_significant (train->span, 5);

  g_ptr_array_add (cells, trammel_exact_to_display (train->ratio, trammel_display_decimal_sign ()));
  g_ptr_array_add (cells, trammel_finder_words_error (train->error));
  g_ptr_array_add (cells, g_strdup_printf ("%d", train->gears));
  g_ptr_array_add (cells, g_strdup_printf ("%s mm", span));
  g_ptr_array_add (cells, trammel_finder_words_direction (train));
  g_ptr_array_add (cells, trammel_finder_words_train (train));
  g_ptr_array_add (cells, places_text (train, grid));
}

static void
append_table (GString *text, const GPtrArray *cells)
{
  glong widths[N_COLUMNS] = { 0 };

  for (guint i = 0; i < cells->len; i++)
    widths[i % N_COLUMNS] = MAX (widths[i % N_COLUMNS], g_utf8_strlen (g_ptr_array_index (cells, i), -1));
  const guint last = widths[HOLES] > 0 ? HOLES : TRAIN; /* nothing after the last column that has something */
  for (guint i = 0; i < cells->len; i++)
    {
      const char *cell = g_ptr_array_index (cells, i);
      const guint column = i % N_COLUMNS;

      g_string_append_printf (text, "%s%s", column == 0 ? "  " : "", cell);
      if (column == last)
        g_string_append_c (text, '\n');
      else if (column < last)
        for (glong width = g_utf8_strlen (cell, -1); width < widths[column] + 2; width++)
          g_string_append_c (text, ' ');
    }
}

static void
append_head_line (GString *text, const TrammelFinderQuery *query, const TrammelFinderResult *result)
{
  g_autofree char *target = trammel_exact_to_display (query->target, trammel_display_decimal_sign ());
  g_autofree char *searched = g_strdup_printf ("%" G_GUINT64_FORMAT, result->searched);
  g_autofree char *within = trammel_display_significant (query->tolerance * 100, 4);

  g_string_append_printf (text, _ ("Wanted: %s turns in for one turn out, within %s %%.\n"), target, within);
  g_string_append_printf (text, _ ("All %s trains of these gears were considered.\n"), searched);
}

void
cli_find_print_words (const TrammelFinderQuery *query, const TrammelFinderResult *result, TrammelHoleGrid grid)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

  append_head_line (text, query, result);
  if (result->n == 0)
    g_string_append (text, result->has_nearest ? _ ("None is within the tolerance; the nearest is:\n")
                                               : _ ("None can be built as asked.\n"));
  if (result->n > 0 || result->has_nearest)
    add_head (cells, grid);
  for (gsize i = 0; i < result->n; i++)
    add_train (cells, &result->trains[i], grid);
  if (result->has_nearest)
    add_train (cells, &result->nearest, grid);
  append_table (text, cells);
  if (grid.pitch > 0 && result->n > 0)
    g_string_append (text, _ ("Each mesh runs in those holes; whether a gear comes in the way of another shaft was not "
                              "looked at.\n"));
  cli_say (stdout, text->str);
}
