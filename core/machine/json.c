/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/json.h"

#include <string.h>

TrammelJsonType
trammel_json_type (TrammelJson value)
{
  switch (value.length > 0 ? *value.text : 'n')
    {
    case 'n':
      return TRAMMEL_JSON_NULL;
    case 't':
    case 'f':
      return TRAMMEL_JSON_BOOLEAN;
    case '"':
      return TRAMMEL_JSON_STRING;
    case '[':
      return TRAMMEL_JSON_ARRAY;
    case '{':
      return TRAMMEL_JSON_OBJECT;
    default:
      return TRAMMEL_JSON_NUMBER;
    }
}

gboolean
trammel_json_is (TrammelJson value, TrammelJsonType type)
{
  return trammel_json_type (value) == type;
}

gboolean
trammel_json_is_true (TrammelJson value)
{
  return value.length > 0 && *value.text == 't';
}

static int
read_unit (const char *digits)
{
  int unit = 0;

  for (int i = 0; i < 4; i++)
    unit = unit * 16 + g_ascii_xdigit_value (digits[i]);
  return unit;
}

/* Appends the character that \u at @p spells; returns what follows it. */
static const char *
append_unicode_escape (GString *text, const char *p)
{
  int unit = read_unit (p + 2), second;

  p += 6;
  if (unit < 0xD800 || unit > 0xDBFF)
    {
      g_string_append_unichar (text, (gunichar)unit);
      return p;
    }
  second = read_unit (p + 2);
  g_string_append_unichar (text, (gunichar)(0x10000 + ((unit - 0xD800) << 10) + (second - 0xDC00)));
  return p + 6;
}

static const char *
append_escape (GString *text, const char *p)
{
  static const char letters[] = "bfnrt", characters[] = "\b\f\n\r\t";
  const char *letter = strchr (letters, p[1]);

  if (p[1] == 'u')
    return append_unicode_escape (text, p);
  g_string_append_c (text, letter ? characters[letter - letters] : p[1]);
  return p + 2;
}

char *
trammel_json_string (TrammelJson string)
{
  const char *p = string.text + 1, *end = string.text + string.length - 1;
  GString *text = g_string_sized_new (string.length);

  while (p < end)
    if (*p == '\\')
      p = append_escape (text, p);
    else
      g_string_append_c (text, *p++);
  return g_string_free (text, FALSE);
}

gboolean
trammel_json_plain_string (TrammelJson string, const char **start, gsize *length)
{
  if (string.length < 2 || memchr (string.text, '\\', string.length))
    return FALSE;
  *start = string.text + 1;
  *length = string.length - 2;
  return TRUE;
}

char *
trammel_json_scalar (TrammelJson value)
{
  return trammel_json_is (value, TRAMMEL_JSON_STRING) ? trammel_json_string (value)
                                                      : g_strndup (value.text, value.length);
}

static const char *
skip_space (const char *p, const char *end)
{
  while (p < end && (*p == ' ' || *p == '\n' || *p == '\r' || *p == '\t'))
    p++;
  return p;
}

static const char *
skip_string (const char *p, const char *end)
{
  for (p++; p < end && *p != '"'; p++)
    if (*p == '\\' && p + 1 < end)
      p++;
  return p < end ? p + 1 : end;
}

static const char *
skip_container (const char *p, const char *end)
{
  int depth = 0;

  while (p < end)
    {
      if (*p == '"')
        {
          p = skip_string (p, end);
          continue;
        }
      if (*p == '{' || *p == '[')
        depth++;
      if ((*p == '}' || *p == ']') && --depth == 0)
        return p + 1;
      p++;
    }
  return end;
}

static const char *
skip_value (const char *p, const char *end)
{
  if (p < end && *p == '"')
    return skip_string (p, end);
  if (p < end && (*p == '{' || *p == '['))
    return skip_container (p, end);
  while (p < end && *p != ',' && *p != '}' && *p != ']' && !g_ascii_isspace (*p))
    p++;
  return p;
}

/* Takes one value at @p, and the comma after it. */
static const char *
take_value (const char *p, const char *end, TrammelJson *out)
{
  const char *after = skip_value (p, end);

  *out = (TrammelJson){ p, (gsize)(after - p) };
  after = skip_space (after, end);
  if (after < end && *after == ',')
    after++;
  return skip_space (after, end);
}

void
trammel_json_elements (TrammelJson array, TrammelJsonElements *elements)
{
  elements->end = array.text + array.length - 1;
  elements->next = skip_space (array.text + 1, elements->end);
}

gboolean
trammel_json_next (TrammelJsonElements *elements, TrammelJson *out)
{
  if (elements->next >= elements->end)
    return FALSE;
  elements->next = take_value (elements->next, elements->end, out);
  return TRUE;
}

gsize
trammel_json_count (TrammelJson array)
{
  TrammelJsonElements elements;
  TrammelJson ignored;
  gsize n = 0;

  trammel_json_elements (array, &elements);
  while (trammel_json_next (&elements, &ignored))
    n++;
  return n;
}

/* Takes the member at @p, and the comma after it. */
static const char *
take_member (const char *p, const char *end, TrammelJsonMember *member)
{
  const char *after = skip_string (p, end);

  member->written = (TrammelJson){ p, (gsize)(after - p) };
  member->decoded = NULL;
  member->taken = FALSE;
  if (!trammel_json_plain_string (member->written, &member->name, &member->name_length))
    {
      member->name = member->decoded = trammel_json_string (member->written);
      member->name_length = strlen (member->name);
    }
  after = skip_space (after, end);
  after = skip_space (after < end ? after + 1 : end, end); /* the colon */
  return take_value (after, end, &member->value);
}

static gsize
count_members (const char *p, const char *end)
{
  TrammelJson ignored;
  gsize n = 0;

  for (; p < end; n++)
    {
      p = skip_space (skip_string (p, end), end);
      p = take_value (skip_space (p < end ? p + 1 : end, end), end, &ignored);
    }
  return n;
}

static gboolean
same_name (const TrammelJsonMember *a, const TrammelJsonMember *b)
{
  return a->name_length == b->name_length && memcmp (a->name, b->name, a->name_length) == 0;
}

static guint
hash_name (gconstpointer key)
{
  const TrammelJsonMember *member = key;
  guint hash = 5381;

  for (gsize i = 0; i < member->name_length; i++)
    hash = hash * 33 + (guchar)member->name[i];
  return hash;
}

static gboolean
equal_names (gconstpointer a, gconstpointer b)
{
  return same_name (a, b);
}

static const TrammelJsonMember *
find_twice_among_many (const TrammelJsonObject *object)
{
  g_autoptr (GHashTable) names = g_hash_table_new (hash_name, equal_names);

  for (gsize i = 0; i < object->n; i++)
    if (!g_hash_table_add (names, &object->members[i]))
      return &object->members[i];
  return NULL;
}

static const TrammelJsonMember *
find_twice (const TrammelJsonObject *object)
{
  if (object->n > TRAMMEL_JSON_FEW)
    return find_twice_among_many (object);
  for (gsize i = 1; i < object->n; i++)
    for (gsize j = 0; j < i; j++)
      if (same_name (&object->members[i], &object->members[j]))
        return &object->members[i];
  return NULL;
}

gboolean
trammel_json_object_open (TrammelJson value, TrammelJsonObject *object, char **twice)
{
  const char *end = value.text + value.length - 1;
  const char *p = skip_space (value.text + 1, end);
  const TrammelJsonMember *repeated;
  gsize n = count_members (p, end);

  object->n = n;
  object->members = n > TRAMMEL_JSON_FEW ? g_new (TrammelJsonMember, n) : object->few;
  for (gsize i = 0; i < n; i++)
    p = take_member (p, end, &object->members[i]);
  repeated = find_twice (object);
  if (!repeated)
    return TRUE;
  *twice = g_strndup (repeated->name, repeated->name_length);
  trammel_json_object_close (object);
  return FALSE;
}

void
trammel_json_object_close (TrammelJsonObject *object)
{
  for (gsize i = 0; i < object->n; i++)
    g_free (object->members[i].decoded);
  if (object->n > TRAMMEL_JSON_FEW)
    g_free (object->members);
  object->n = 0;
}

static gboolean
is_called (const TrammelJsonMember *member, const char *name, gsize length)
{
  return member->name_length == length && memcmp (member->name, name, length) == 0;
}

gboolean
trammel_json_object_take (TrammelJsonObject *object, const char *name, TrammelJson *out)
{
  gsize length = strlen (name);

  for (gsize i = 0; i < object->n; i++)
    if (is_called (&object->members[i], name, length))
      {
        object->members[i].taken = TRUE;
        *out = object->members[i].value;
        return TRUE;
      }
  return FALSE;
}

gboolean
trammel_json_object_has (const TrammelJsonObject *object, const char *name)
{
  gsize length = strlen (name);

  for (gsize i = 0; i < object->n; i++)
    if (is_called (&object->members[i], name, length))
      return TRUE;
  return FALSE;
}

/* Without the white space between tokens. */
static void
append_compact (GString *text, TrammelJson value)
{
  const char *p = value.text, *end = value.text + value.length;

  while (p < end)
    {
      const char *after = *p == '"' ? skip_string (p, end) : p + 1;

      if (!g_ascii_isspace (*p))
        g_string_append_len (text, p, after - p);
      p = after;
    }
}

char *
trammel_json_object_rest (const TrammelJsonObject *object)
{
  GString *rest = NULL;

  for (gsize i = 0; i < object->n; i++)
    {
      const TrammelJsonMember *member = &object->members[i];

      if (member->taken)
        continue;
      if (!rest)
        rest = g_string_new ("{");
      else
        g_string_append_c (rest, ',');
      g_string_append_len (rest, member->written.text, (gssize)member->written.length);
      g_string_append_c (rest, ':');
      append_compact (rest, member->value);
    }
  return rest ? g_string_free (g_string_append_c (rest, '}'), FALSE) : NULL;
}
