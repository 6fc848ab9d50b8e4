/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "machine/json.h"

G_BEGIN_DECLS

/* Writes JSON for people and for line-by-line comparison: containers over many lines, two spaces deeper each, except
 * those that are asked to stay on one line. */

typedef struct
{
  GString *text;
  int depth;
  struct
  {
    gboolean on_one_line;
    gboolean has_content;
  } levels[TRAMMEL_JSON_MAX_DEPTH];
} TrammelJsonWriter;

void trammel_json_writer_init (TrammelJsonWriter *writer);
/* (transfer full): the text, with a newline at its end. */
char *trammel_json_writer_finish (TrammelJsonWriter *writer, gsize *length);

/* @name: of the member, or NULL for an element or the whole. What is inside a container on one line stays there. */
void trammel_json_writer_open (TrammelJsonWriter *writer, const char *name, char bracket, gboolean on_one_line);
void trammel_json_writer_close (TrammelJsonWriter *writer, char bracket);
void trammel_json_writer_string (TrammelJsonWriter *writer, const char *name, const char *text);
/* A number, or null where it is not finite. */
void trammel_json_writer_number (TrammelJsonWriter *writer, const char *name, double value);
void trammel_json_writer_integer (TrammelJsonWriter *writer, const char *name, gint64 value);
void trammel_json_writer_flag (TrammelJsonWriter *writer, const char *name, gboolean value);
void trammel_json_writer_null (TrammelJsonWriter *writer, const char *name);
/* The members of @object (text of a JSON object; nullable), as they are. */
void trammel_json_writer_members (TrammelJsonWriter *writer, const char *object);

G_END_DECLS
