/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/own-rows.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "machine/csv-scanner.h"
#include "machine/user-file.h"

#define FILE_NAME "own-rows.csv"
#define HEADER "table,name,value,source"
#define N_COLUMNS 4
#define LONGEST_TEXT 200 /* characters of a name or source */

/* A line of the file: a row, or something that stays as it is. */
typedef struct
{
  char *kept; /* NULL: a row */
  const TrammelTable *table;
  char *name, *value, *source;
  TrammelTableRow row; /* of these three */
} Line;

struct _TrammelOwnRows
{
  GPtrArray *lines;
  GPtrArray *rows;     /* those of them that are rows; borrowed */
  GPtrArray *troubles; /* NULL-terminated */
};

static void
line_free (gpointer data)
{
  Line *line = data;

  g_free (line->kept);
  g_free (line->name);
  g_free (line->value);
  g_free (line->source);
  g_free (line);
}

TrammelOwnRows *
trammel_own_rows_new (void)
{
  TrammelOwnRows *rows = g_new0 (TrammelOwnRows, 1);

  rows->lines = g_ptr_array_new_with_free_func (line_free);
  rows->rows = g_ptr_array_new ();
  rows->troubles = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (rows->troubles, NULL);
  return rows;
}

void
trammel_own_rows_free (TrammelOwnRows *rows)
{
  if (!rows)
    return;
  g_ptr_array_unref (rows->lines);
  g_ptr_array_unref (rows->rows);
  g_ptr_array_unref (rows->troubles);
  g_free (rows);
}

/* --- rows --- */

/* (transfer full): @text without white space around it, when it can stand in a line; NULL with @error. */
static char *
one_line (const char *text, const char *wanted, gboolean may_be_blank, GError **error)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text ? text : ""));
  g_autofree char *found = trammel_error_excerpt (stripped, -1);

  if ((*stripped || may_be_blank) && !strpbrk (stripped, "\n\r") && g_utf8_validate (stripped, -1, NULL)
      && g_utf8_strlen (stripped, -1) <= LONGEST_TEXT)
    return g_steal_pointer (&stripped);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; %s is wanted"), found, wanted);
  return NULL;
}

/* (transfer full) (nullable) */
static Line *
line_of_row (const TrammelTable *table, const char *name, const char *value, const char *source,
             const TrammelUnit *assumed, GError **error)
{
  g_autofree char *called = one_line (name, _ ("a name of one line, at most 200 characters,"), FALSE, error);
  g_autofree char *from = called ? one_line (source, _ ("a source of at most one line"), TRUE, error) : NULL;
  g_autofree char *checked = from ? trammel_table_check (table, value, assumed, error) : NULL;
  Line *line;

  if (!checked)
    return NULL;
  line = g_new0 (Line, 1);
  line->table = table;
  line->name = g_steal_pointer (&called);
  line->value = g_steal_pointer (&checked);
  line->source = g_steal_pointer (&from);
  line->row = (TrammelTableRow){ line->name, line->value, line->source, TRAMMEL_MARKING_OWN };
  return line;
}

static void
put_line (TrammelOwnRows *rows, Line *line)
{
  g_ptr_array_add (rows->lines, line);
  if (!line->kept)
    g_ptr_array_add (rows->rows, line);
}

static void
drop_line (TrammelOwnRows *rows, Line *line)
{
  g_ptr_array_remove (rows->rows, line);
  g_ptr_array_remove (rows->lines, line);
}

gsize
trammel_own_rows_count (const TrammelOwnRows *rows)
{
  g_return_val_if_fail (rows != NULL, 0);

  return rows->rows->len;
}

const TrammelTableRow *
trammel_own_rows_get (const TrammelOwnRows *rows, gsize i, const TrammelTable **table)
{
  const Line *line;

  g_return_val_if_fail (rows != NULL && i < rows->rows->len, NULL);

  line = g_ptr_array_index (rows->rows, i);
  if (table)
    *table = line->table;
  return &line->row;
}

const char *const *
trammel_own_rows_troubles (const TrammelOwnRows *rows)
{
  g_return_val_if_fail (rows != NULL, NULL);

  return (const char *const *)rows->troubles->pdata;
}

static Line *
find_row (const TrammelOwnRows *rows, const TrammelTable *table, const char *name)
{
  for (guint i = 0; i < rows->rows->len; i++)
    {
      Line *line = g_ptr_array_index (rows->rows, i);

      if (line->table == table && g_str_equal (line->name, name))
        return line;
    }
  return NULL;
}

gboolean
trammel_own_rows_add (TrammelOwnRows *rows, const TrammelTable *table, const char *name, const char *value,
                      const char *source, const TrammelUnit *assumed, GError **error)
{
  Line *line, *old;

  g_return_val_if_fail (rows != NULL && table != NULL && name != NULL && value != NULL, FALSE);

  line = line_of_row (table, name, value, source, assumed, error);
  if (!line)
    return FALSE;
  old = find_row (rows, table, line->name);
  if (old)
    drop_line (rows, old);
  put_line (rows, line);
  return TRUE;
}

void
trammel_own_rows_remove (TrammelOwnRows *rows, gsize i)
{
  g_return_if_fail (rows != NULL && i < rows->rows->len);

  drop_line (rows, g_ptr_array_index (rows->rows, i));
}

/* --- text --- */

static Line *
read_fields (const TrammelCsvScanner *scanner, GError **error)
{
  g_auto (GStrv) texts = g_new0 (char *, N_COLUMNS + 1);
  const TrammelTable *table;

  for (gsize i = 0; i < MIN (scanner->n_fields, N_COLUMNS); i++)
    texts[i] = g_strndup (scanner->fields[i].text, scanner->fields[i].length);
  table = trammel_table_find (texts[0]);
  if (!table)
    {
      g_autofree char *found = trammel_error_excerpt (texts[0], -1);

      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
                   _ ("found “%s”; the key of a table such as “thread-pitch” is wanted"), found);
      return NULL;
    }
  if (scanner->n_fields == N_COLUMNS)
    return line_of_row (table, texts[1], texts[2], texts[3], NULL, error);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("found %u fields; four, “%s”, are wanted"),
               (guint)scanner->n_fields, HEADER);
  return NULL;
}

/* (transfer full) (nullable): the row that @text is. NULL without @error: a blank line or a comment. */
static Line *
read_row (const char *text, GError **error)
{
  g_auto (TrammelCsvScanner) scanner;

  trammel_csv_scanner_init (&scanner, text, strlen (text));
  scanner.separator = ',';
  if (!trammel_csv_scanner_next (&scanner))
    return NULL;
  if (!scanner.problem)
    return read_fields (&scanner, error);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, "%s", scanner.problem);
  return NULL;
}

static void
note_trouble (TrammelOwnRows *rows, guint number, const GError *why)
{
  char *trouble = g_strdup_printf (_ ("line %u: %s"), number, why->message);

  g_ptr_array_insert (rows->troubles, (int)rows->troubles->len - 1, trouble);
}

static void
read_line (TrammelOwnRows *rows, guint number, const char *text)
{
  g_autoptr (GError) why = NULL;
  Line *line = read_row (text, &why);

  if (!line)
    {
      line = g_new0 (Line, 1);
      line->kept = g_strdup (text);
    }
  if (why)
    note_trouble (rows, number, why);
  put_line (rows, line);
}

TrammelOwnRows *
trammel_own_rows_read (const char *text)
{
  TrammelOwnRows *rows;
  g_auto (GStrv) lines = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  rows = trammel_own_rows_new ();
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i]; i++)
    {
      gboolean last = lines[i + 1] == NULL;

      g_strchomp (lines[i]);
      if ((last && *lines[i] == '\0') || g_str_equal (lines[i], HEADER))
        continue;
      read_line (rows, i + 1, lines[i]);
    }
  return rows;
}

static void
append_field (GString *text, const char *field, char end)
{
  gboolean plain = !strpbrk (field, ",;\t\"") && *field != '#';

  if (plain)
    g_string_append (text, field);
  else
    {
      g_auto (GStrv) parts = g_strsplit (field, "\"", -1);
      g_autofree char *doubled = g_strjoinv ("\"\"", parts);

      g_string_append_printf (text, "\"%s\"", doubled);
    }
  g_string_append_c (text, end);
}

char *
trammel_own_rows_write (const TrammelOwnRows *rows)
{
  GString *text;

  g_return_val_if_fail (rows != NULL, NULL);

  text = g_string_new (HEADER "\n");
  for (guint i = 0; i < rows->lines->len; i++)
    {
      const Line *line = g_ptr_array_index (rows->lines, i);

      if (line->kept)
        {
          g_string_append_printf (text, "%s\n", line->kept);
          continue;
        }
      append_field (text, trammel_table_key (line->table), ',');
      append_field (text, line->name, ',');
      append_field (text, line->value, ',');
      append_field (text, line->source, '\n');
    }
  return g_string_free (text, FALSE);
}

char *
trammel_own_rows_path (void)
{
  return trammel_user_file_path (FILE_NAME);
}

TrammelOwnRows *
trammel_own_rows_load (GError **error)
{
  g_autofree char *text = trammel_user_file_load (FILE_NAME, error);

  return text ? trammel_own_rows_read (text) : NULL;
}

gboolean
trammel_own_rows_save (const TrammelOwnRows *rows, GError **error)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (rows != NULL, FALSE);

  text = trammel_own_rows_write (rows);
  return trammel_user_file_save (FILE_NAME, text, error);
}
