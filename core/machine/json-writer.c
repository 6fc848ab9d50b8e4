/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/json-writer.h"

#include <math.h>
#include <string.h>

#include "base/number.h"

void
trammel_json_writer_init (TrammelJsonWriter *writer)
{
  writer->text = g_string_new (NULL);
  writer->depth = 0;
  writer->levels[0].on_one_line = FALSE;
  writer->levels[0].has_content = FALSE;
}

char *
trammel_json_writer_finish (TrammelJsonWriter *writer, gsize *length)
{
  g_string_append_c (writer->text, '\n');
  if (length)
    *length = writer->text->len;
  return g_string_free (writer->text, FALSE);
}

static void
append_string (GString *text, const char *string)
{
  g_string_append_c (text, '"');
  for (const char *p = string; *p;)
    {
      gsize plain = 0;

      while ((guchar)p[plain] >= 0x20 && p[plain] != '"' && p[plain] != '\\')
        plain++;
      g_string_append_len (text, p, (gssize)plain);
      p += plain;
      if (*p == '\0')
        break;
      if (*p == '"' || *p == '\\')
        g_string_append_printf (text, "\\%c", *p);
      else if (*p == '\n')
        g_string_append (text, "\\n");
      else if (*p == '\t')
        g_string_append (text, "\\t");
      else
        g_string_append_printf (text, "\\u%04x", (guint)(guchar)*p);
      p++;
    }
  g_string_append_c (text, '"');
}

static void
break_line (TrammelJsonWriter *writer, int depth)
{
  g_string_append_c (writer->text, '\n');
  for (int i = 0; i < depth; i++)
    g_string_append (writer->text, "  ");
}

/* What stands before the next value: a comma, white space. */
static void
begin (TrammelJsonWriter *writer)
{
  int depth = writer->depth;

  if (depth == 0)
    return;
  if (writer->levels[depth].has_content)
    g_string_append_c (writer->text, ',');
  if (writer->levels[depth].on_one_line)
    g_string_append_c (writer->text, ' ');
  else
    break_line (writer, depth);
  writer->levels[depth].has_content = TRUE;
}

static void
begin_value (TrammelJsonWriter *writer, const char *name)
{
  begin (writer);
  if (!name)
    return;
  append_string (writer->text, name);
  g_string_append (writer->text, ": ");
}

void
trammel_json_writer_open (TrammelJsonWriter *writer, const char *name, char bracket, gboolean on_one_line)
{
  g_return_if_fail (writer->depth + 1 < TRAMMEL_JSON_MAX_DEPTH);

  begin_value (writer, name);
  g_string_append_c (writer->text, bracket);
  writer->depth++;
  writer->levels[writer->depth].on_one_line = on_one_line || writer->levels[writer->depth - 1].on_one_line;
  writer->levels[writer->depth].has_content = FALSE;
}

void
trammel_json_writer_close (TrammelJsonWriter *writer, char bracket)
{
  gboolean on_one_line = writer->levels[writer->depth].on_one_line;
  gboolean has_content = writer->levels[writer->depth].has_content;

  g_return_if_fail (writer->depth > 0);

  writer->depth--;
  if (has_content && on_one_line)
    g_string_append_c (writer->text, ' ');
  else if (has_content)
    break_line (writer, writer->depth);
  g_string_append_c (writer->text, bracket);
}

void
trammel_json_writer_string (TrammelJsonWriter *writer, const char *name, const char *text)
{
  begin_value (writer, name);
  append_string (writer->text, text);
}

void
trammel_json_writer_number (TrammelJsonWriter *writer, const char *name, double value)
{
  g_autofree char *text = isfinite (value) ? trammel_number_to_text (value) : g_strdup ("null");

  begin_value (writer, name);
  g_string_append (writer->text, text);
}

void
trammel_json_writer_integer (TrammelJsonWriter *writer, const char *name, gint64 value)
{
  begin_value (writer, name);
  g_string_append_printf (writer->text, "%" G_GINT64_FORMAT, value);
}

void
trammel_json_writer_flag (TrammelJsonWriter *writer, const char *name, gboolean value)
{
  begin_value (writer, name);
  g_string_append (writer->text, value ? "true" : "false");
}

void
trammel_json_writer_null (TrammelJsonWriter *writer, const char *name)
{
  begin_value (writer, name);
  g_string_append (writer->text, "null");
}

void
trammel_json_writer_members (TrammelJsonWriter *writer, const char *object)
{
  g_auto (TrammelJsonObject) members = { 0 };
  TrammelJson whole;
  g_autofree char *twice = NULL;

  if (!object || !trammel_json_check (object, strlen (object), &whole, NULL)
      || !trammel_json_is (whole, TRAMMEL_JSON_OBJECT))
    return;
  if (!trammel_json_object_open (whole, &members, &twice))
    return;
  for (gsize i = 0; i < members.n; i++)
    {
      begin (writer);
      g_string_append_len (writer->text, members.members[i].written.text, (gssize)members.members[i].written.length);
      g_string_append (writer->text, ": ");
      g_string_append_len (writer->text, members.members[i].value.text, (gssize)members.members[i].value.length);
    }
}
