/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Writes JSON text as it goes, without a tree, so that a million readings cost no more than their text. Numbers with
 * 17 significant digits in the C locale; NaN and infinities become null. @key is NULL inside an array. */
typedef struct
{
  GString *text;
  gboolean after_member; /* a comma is due */
} JsonText;

void json_text_init (JsonText *json);
/* To standard output, with a newline; frees. */
void json_text_print (JsonText *json);

void json_text_open (JsonText *json, const char *key, char bracket); /* '{' or '[' */
void json_text_close (JsonText *json, char bracket);
void json_text_number (JsonText *json, const char *key, double value);
void json_text_integer (JsonText *json, const char *key, gint64 value);
void json_text_flag (JsonText *json, const char *key, gboolean value);
void json_text_string (JsonText *json, const char *key, const char *value); /* NULL: null */
void json_text_null (JsonText *json, const char *key);

G_END_DECLS
