/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/list-cells.h"

#include <string.h>

#include "base/quantity.h"

void
trammel_list_cells_clear (TrammelListCells *cells)
{
  g_return_if_fail (cells != NULL);

  g_clear_pointer (&cells->lines, g_ptr_array_unref);
  g_clear_pointer (&cells->numbers, g_array_unref);
}

/* (transfer full): one kind of line end, of minus and of blank; blanks around the lines taken off. */
static char **
lines_of (const char *text)
{
  GString *plain = g_string_new (text);
  g_string_replace (plain, "\r\n", "\n", 0);
  g_string_replace (plain, "\r", "\n", 0);
  g_string_replace (plain, "\xe2\x88\x92", "-", 0); /* minus */
  g_string_replace (plain, "\xc2\xa0", " ", 0);     /* no-break space */
  char **lines = g_strsplit (plain->str, "\n", -1);
  g_string_free (plain, TRUE);
  return lines;
}

static gboolean
is_comment (const char *line)
{
  const char *first = line + strspn (line, " \t");
  return *first == '\0' || *first == '#';
}

gboolean
trammel_list_cells_begins_with_number (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);

  return g_ascii_isdigit (text[strspn (text, " \t+-.,")]);
}

/* A comma that cannot be a decimal one. */
static gboolean
has_bare_comma (const char *line)
{
  for (const char *comma = strchr (line, ','); comma != NULL; comma = strchr (comma + 1, ','))
    if (comma == line || !g_ascii_isdigit (comma[-1]) || !g_ascii_isdigit (comma[1]))
      return TRUE;
  return FALSE;
}

/* What the lines have in them that may stand between cells. */
typedef struct
{
  gboolean tab, semicolon, blank, point, comma, bare_comma, many_commas;
} Signs;

static void
look_at_line (Signs *signs, const char *line)
{
  const char *first = strchr (line, ',');

  signs->tab |= strchr (line, '\t') != NULL;
  signs->semicolon |= strchr (line, ';') != NULL;
  signs->blank |= strchr (line, ' ') != NULL;
  signs->point |= strchr (line, '.') != NULL;
  signs->comma |= first != NULL;
  signs->bare_comma |= has_bare_comma (line);
  signs->many_commas |= first != NULL && strchr (first + 1, ',') != NULL;
}

/* Words above the numbers may have any sign in them, and are asked only where the numbers do not tell. */
static char
separator_of (char **lines)
{
  Signs signs = { 0 }, above = { 0 };
  gboolean any = FALSE;

  for (gsize i = 0; lines[i] != NULL; i++)
    {
      g_autofree char *line = g_strstrip (g_strdup (lines[i]));
      if (is_comment (line))
        continue;
      const gboolean is_of_numbers = trammel_list_cells_begins_with_number (line);
      look_at_line (is_of_numbers ? &signs : &above, line);
      any |= is_of_numbers;
    }
  if (!any)
    signs = above;
  if (signs.tab)
    return '\t';
  if (signs.semicolon)
    return ';';
  if (signs.bare_comma)
    return ',';
  return signs.comma && !signs.blank && (signs.many_commas || signs.point || above.bare_comma) ? ',' : ' ';
}

static gboolean
is_unit (const char *word)
{
  return trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, word) != NULL
         || trammel_unit_find (TRAMMEL_DIMENSION_ANGLE, word) != NULL;
}

/* A unit goes with the number, or word, before it; but units alone are a line of them. */
static gboolean
goes_with_last (const GPtrArray *line, const char *word)
{
  return line->len > 0 && is_unit (word) && !is_unit (g_ptr_array_index (line, line->len - 1));
}

static void
append_cell (GPtrArray *line, const char *word, char separator)
{
  if (separator != ' ')
    g_ptr_array_add (line, g_strdup (word));
  else if (*word != '\0' && goes_with_last (line, word))
    {
      g_autofree char *number = g_ptr_array_index (line, line->len - 1);
      g_ptr_array_index (line, line->len - 1) = g_strconcat (number, " ", word, NULL);
    }
  else if (*word != '\0')
    g_ptr_array_add (line, g_strdup (word));
}

static GPtrArray *
cells_of_line (const char *line, char separator)
{
  const char between[] = { separator, '\0' };
  g_auto (GStrv) words = g_strsplit (line, between, TRAMMEL_LIST_MOST_COLUMNS + 1);
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; words[i] != NULL; i++)
    append_cell (cells, g_strstrip (words[i]), separator);
  while (cells->len > 0 && *(const char *)g_ptr_array_index (cells, cells->len - 1) == '\0')
    g_ptr_array_remove_index (cells, cells->len - 1);
  return cells;
}

void
trammel_list_cells_read (const char *text, TrammelListCells *out)
{
  g_return_if_fail (text != NULL && out != NULL);

  g_auto (GStrv) lines = lines_of (text);

  out->lines = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  out->numbers = g_array_new (FALSE, FALSE, sizeof (gsize));
  out->separator = separator_of (lines);
  for (gsize i = 0; lines[i] != NULL; i++)
    {
      const gsize number = i + 1;
      GPtrArray *line = is_comment (lines[i]) ? NULL : cells_of_line (lines[i], out->separator);
      if (line != NULL && line->len > 0)
        {
          g_ptr_array_add (out->lines, line);
          g_array_append_val (out->numbers, number);
        }
      else if (line != NULL)
        g_ptr_array_unref (line);
    }
}

gsize
trammel_list_cells_n_lines (const TrammelListCells *cells)
{
  g_return_val_if_fail (cells != NULL, 0);

  return cells->lines->len;
}

gsize
trammel_list_cells_length (const TrammelListCells *cells, gsize line)
{
  g_return_val_if_fail (cells != NULL && line < cells->lines->len, 0);

  return ((const GPtrArray *)g_ptr_array_index (cells->lines, line))->len;
}

const char *
trammel_list_cells_get (const TrammelListCells *cells, gsize line, gsize column)
{
  g_return_val_if_fail (cells != NULL && line < cells->lines->len, "");

  const GPtrArray *texts = g_ptr_array_index (cells->lines, line);
  return column < texts->len ? g_ptr_array_index (texts, column) : "";
}

gsize
trammel_list_cells_number (const TrammelListCells *cells, gsize line)
{
  g_return_val_if_fail (cells != NULL && line < cells->numbers->len, 0);

  return g_array_index (cells->numbers, gsize, line);
}
