/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Reading JSON (RFC 8259) where it lies, for files that are not trusted: the whole text is checked once, strictly;
 * after that a value is just a piece of it, and containers are walked when they are looked into. So numbers keep their
 * decimals, members that nobody knows keep their text, a member given twice is seen, and memory does not grow with the
 * file. */

#define TRAMMEL_JSON_MAX_DEPTH 64

typedef enum
{
  TRAMMEL_JSON_NULL,
  TRAMMEL_JSON_BOOLEAN,
  TRAMMEL_JSON_NUMBER,
  TRAMMEL_JSON_STRING,
  TRAMMEL_JSON_ARRAY,
  TRAMMEL_JSON_OBJECT,
} TrammelJsonType;

/* A value: its piece of the text, without white space around it. A plain value; the text is borrowed. */
typedef struct
{
  const char *text;
  gsize length;
} TrammelJson;

/**
 * trammel_json_check:
 * @text: @length bytes of UTF-8
 * @out: the whole as a value
 *
 * TRUE when @text is one JSON value. Stricter than the RFC in two things: containers nest at most
 * TRAMMEL_JSON_MAX_DEPTH deep, and escapes in strings must spell characters other than NUL (no lone surrogates).
 * Errors: TRAMMEL_ERROR_FORMAT "line 3, column 7: …".
 */
gboolean trammel_json_check (const char *text, gsize length, TrammelJson *out, GError **error);

TrammelJsonType trammel_json_type (TrammelJson value);
gboolean trammel_json_is (TrammelJson value, TrammelJsonType type);
gboolean trammel_json_is_true (TrammelJson value);

/* (transfer full): the characters of a string. */
char *trammel_json_string (TrammelJson string);
/* The same without a copy, when there are no escapes in it. */
gboolean trammel_json_plain_string (TrammelJson string, const char **start, gsize *length);
/* (transfer full): a number or a string as text. */
char *trammel_json_scalar (TrammelJson value);

/* One after another, the elements of an array. */
typedef struct
{
  const char *next;
  const char *end;
} TrammelJsonElements;

void trammel_json_elements (TrammelJson array, TrammelJsonElements *elements);
gsize trammel_json_count (TrammelJson array);
gboolean trammel_json_next (TrammelJsonElements *elements, TrammelJson *out);

/* An object looked into: its members, and which of them were asked for. */
typedef struct
{
  const char *name;
  gsize name_length;
  char *decoded;       /* a name written with escapes: what `name` points at */
  TrammelJson written; /* the name as it stands in the text, quotes and all */
  TrammelJson value;
  gboolean taken;
} TrammelJsonMember;

#define TRAMMEL_JSON_FEW 24

typedef struct
{
  gsize n;
  TrammelJsonMember *members;
  TrammelJsonMember few[TRAMMEL_JSON_FEW];
} TrammelJsonObject;

/**
 * trammel_json_object_open:
 *
 * Looks into @value, an object. FALSE when it gives a member twice; then @twice (transfer full) is its name and there
 * is nothing to close.
 */
gboolean trammel_json_object_open (TrammelJson value, TrammelJsonObject *object, char **twice);
void trammel_json_object_close (TrammelJsonObject *object);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelJsonObject, trammel_json_object_close)

/* The member called @name, which counts as known from then on. */
gboolean trammel_json_object_take (TrammelJsonObject *object, const char *name, TrammelJson *out);

/* TRUE when there is a member called @name; it does not count as known by this. */
gboolean trammel_json_object_has (const TrammelJsonObject *object, const char *name);

/* (transfer full) (nullable): the members that were not taken as an object's text, in their order, without white
 * space; NULL when all were. */
char *trammel_json_object_rest (const TrammelJsonObject *object);

G_END_DECLS
