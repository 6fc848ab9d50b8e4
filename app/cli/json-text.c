/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cli/console.h"
#include "cli/json-text.h"

void
json_text_init (JsonText *json)
{
  json->text = g_string_new (NULL);
  json->after_member = FALSE;
}

void
json_text_print (JsonText *json)
{
  g_string_append_c (json->text, '\n');
  cli_put (json->text->str, json->text->len);
  g_string_free (g_steal_pointer (&json->text), TRUE);
}

static void
append_quoted (GString *text, const char *value)
{
  g_string_append_c (text, '"');
  for (const guchar *c = (const guchar *)value; *c; c++)
    if (*c == '"' || *c == '\\')
      g_string_append_printf (text, "\\%c", *c);
    else if (*c < ' ' || *c == 0x7f)
      g_string_append_printf (text, "\\u%04x", *c);
    else
      g_string_append_c (text, *c);
  g_string_append_c (text, '"');
}

static void
begin_member (JsonText *json, const char *key)
{
  if (json->after_member)
    g_string_append_c (json->text, ',');
  json->after_member = TRUE;
  if (!key)
    return;
  append_quoted (json->text, key);
  g_string_append_c (json->text, ':');
}

void
json_text_open (JsonText *json, const char *key, char bracket)
{
  begin_member (json, key);
  g_string_append_c (json->text, bracket);
  json->after_member = FALSE;
}

void
json_text_close (JsonText *json, char bracket)
{
  g_string_append_c (json->text, bracket);
  json->after_member = TRUE;
}

void
json_text_number (JsonText *json, const char *key, double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  begin_member (json, key);
  if (isfinite (value))
    g_string_append (json->text, g_ascii_formatd (buffer, sizeof buffer, "%.17g", value));
  else
    g_string_append (json->text, "null");
}

void
json_text_integer (JsonText *json, const char *key, gint64 value)
{
  begin_member (json, key);
  g_string_append_printf (json->text, "%" G_GINT64_FORMAT, value);
}

void
json_text_flag (JsonText *json, const char *key, gboolean value)
{
  begin_member (json, key);
  g_string_append (json->text, value ? "true" : "false");
}

void
json_text_null (JsonText *json, const char *key)
{
  begin_member (json, key);
  g_string_append (json->text, "null");
}

void
json_text_string (JsonText *json, const char *key, const char *value)
{
  if (!value)
    {
      json_text_null (json, key);
      return;
    }
  begin_member (json, key);
  append_quoted (json->text, value);
}
