/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/csv-scanner.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *
find_line_end (const char *p, const char *end)
{
  while (p < end && *p != '\n' && *p != '\r')
    p++;
  return p;
}

/* Behind the line end at @p: LF, CR LF or CR. */
static const char *
skip_line_end (const char *p, const char *end)
{
  if (p < end && *p == '\r')
    {
      p++;
      return p < end && *p == '\n' ? p + 1 : p;
    }
  return p < end ? p + 1 : p;
}

static char
detect_separator (const char *p, const char *end)
{
  for (; p < end; p = skip_line_end (p, end))
    {
      const char *line_end = find_line_end (p, end);
      gboolean quoted = FALSE, blank = TRUE;

      for (const char *c = *p == '#' ? line_end : p; c < line_end; c++)
        {
          if (*c == '"')
            quoted = !quoted;
          if (!quoted && (*c == ',' || *c == ';' || *c == '\t'))
            return *c;
          blank = blank && *c == ' ';
        }
      if (*p != '#' && !blank)
        break;
      p = line_end;
    }
  return ',';
}

void
trammel_csv_scanner_init (TrammelCsvScanner *scanner, const char *text, gsize length)
{
  *scanner = (TrammelCsvScanner){ .p = text, .end = text + length, .next_line = 1 };
  scanner->separator = detect_separator (text, scanner->end);
  scanner->unescaped = g_ptr_array_new_with_free_func (g_free);
}

void
trammel_csv_scanner_clear (TrammelCsvScanner *scanner)
{
  g_clear_pointer (&scanner->unescaped, g_ptr_array_unref);
}

static gboolean
is_space (const TrammelCsvScanner *scanner, char c)
{
  return c == ' ' || c == '\f' || (c == '\t' && scanner->separator != '\t');
}

static void
skip_spaces (TrammelCsvScanner *scanner)
{
  while (scanner->p < scanner->end && is_space (scanner, *scanner->p))
    scanner->p++;
}

static gboolean
at_field_end (const TrammelCsvScanner *scanner)
{
  return scanner->p >= scanner->end || *scanner->p == scanner->separator || *scanner->p == '\n' || *scanner->p == '\r';
}

static void
read_plain_field (TrammelCsvScanner *scanner, TrammelCsvField *field)
{
  const char *last;

  field->text = scanner->p;
  while (!at_field_end (scanner))
    scanner->p++;
  last = scanner->p;
  while (last > field->text && is_space (scanner, last[-1]))
    last--;
  field->length = (gsize)(last - field->text);
}

/* @field with each pair of quotes in it made one. */
static void
unescape (TrammelCsvScanner *scanner, TrammelCsvField *field)
{
  GString *text = g_string_sized_new (field->length);

  for (gsize i = 0; i < field->length; i++)
    {
      g_string_append_c (text, field->text[i]);
      if (field->text[i] == '"')
        i++;
    }
  field->length = text->len;
  field->text = g_string_free (text, FALSE);
  g_ptr_array_add (scanner->unescaped, (gpointer)field->text);
}

static void
trim (TrammelCsvField *field)
{
  while (field->length > 0 && g_ascii_isspace (field->text[field->length - 1]))
    field->length--;
  while (field->length > 0 && g_ascii_isspace (*field->text))
    {
      field->text++;
      field->length--;
    }
}

static void
count_line (TrammelCsvScanner *scanner)
{
  if (*scanner->p == '\n' || (*scanner->p == '\r' && (scanner->p + 1 == scanner->end || scanner->p[1] != '\n')))
    scanner->next_line++;
}

static void
read_quoted_field (TrammelCsvScanner *scanner, TrammelCsvField *field)
{
  gboolean pairs = FALSE;

  field->text = ++scanner->p;
  for (; scanner->p < scanner->end; scanner->p++)
    {
      count_line (scanner);
      if (*scanner->p != '"')
        continue;
      if (scanner->p + 1 == scanner->end || scanner->p[1] != '"')
        break;
      pairs = TRUE;
      scanner->p++;
    }
  if (scanner->p == scanner->end)
    {
      scanner->problem = _ ("found an opening quote; a closing one is wanted");
      return;
    }
  field->length = (gsize)(scanner->p++ - field->text);
  if (pairs)
    unescape (scanner, field);
  trim (field);
  skip_spaces (scanner);
  if (!at_field_end (scanner))
    scanner->problem = _ ("found text after a closing quote; the next field is wanted");
}

static void
read_row (TrammelCsvScanner *scanner)
{
  scanner->line = scanner->next_line;
  scanner->n_fields = 0;
  if (scanner->unescaped->len > 0)
    g_ptr_array_set_size (scanner->unescaped, 0);
  while (!scanner->problem)
    {
      TrammelCsvField *field = &scanner->fields[scanner->n_fields];

      if (scanner->n_fields == TRAMMEL_CSV_MAX_FIELDS)
        {
          scanner->problem = _ ("found more than 64 fields; fewer are wanted");
          return;
        }
      scanner->n_fields++;
      skip_spaces (scanner);
      if (scanner->p < scanner->end && *scanner->p == '"')
        read_quoted_field (scanner, field);
      else
        read_plain_field (scanner, field);
      if (scanner->p >= scanner->end || *scanner->p != scanner->separator)
        break;
      scanner->p++;
    }
  if (scanner->problem)
    return;
  scanner->p = skip_line_end (scanner->p, scanner->end);
  scanner->next_line++;
}

static gboolean
is_blank (const TrammelCsvScanner *scanner)
{
  for (gsize i = 0; i < scanner->n_fields; i++)
    if (scanner->fields[i].length > 0)
      return FALSE;
  return TRUE;
}

gboolean
trammel_csv_scanner_next (TrammelCsvScanner *scanner)
{
  while (!scanner->problem && scanner->p < scanner->end)
    {
      if (*scanner->p == '#')
        {
          scanner->p = skip_line_end (find_line_end (scanner->p, scanner->end), scanner->end);
          scanner->next_line++;
          continue;
        }
      read_row (scanner);
      if (scanner->problem || !is_blank (scanner))
        return TRUE;
    }
  return FALSE;
}
