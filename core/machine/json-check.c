/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/json.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "machine/encoding.h"

#define LONGEST_WORD 40

typedef struct
{
  const char *start;
  const char *p; /* what is looked at */
  const char *end;
  int depth;
  GError **error;
} Scanner;

static gboolean check_value (Scanner *scanner);

/* "line L, column C: found X; @wanted is wanted", about what stands at @at. */
static gboolean
refuse (Scanner *scanner, const char *at, const char *wanted)
{
  g_autofree char *found = NULL;
  gsize line, column, length = 0;

  trammel_encoding_locate (scanner->start, at, &line, &column);
  if (at >= scanner->end)
    {
      g_set_error (scanner->error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
                   _ ("line %zu, column %zu: found the end of the file; %s is wanted"), line, column, wanted);
      return FALSE;
    }
  while (at + length < scanner->end && length < LONGEST_WORD
         && (g_ascii_isalnum (at[length]) || strchr ("+-.", at[length])))
    length++;
  if (length == 0)
    length = (gsize)(g_utf8_find_next_char (at, scanner->end) ? g_utf8_find_next_char (at, scanner->end) - at
                                                              : scanner->end - at);
  found = trammel_error_excerpt (at, (gssize)length);
  g_set_error (scanner->error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
               _ ("line %zu, column %zu: found “%s”; %s is wanted"), line, column, found, wanted);
  return FALSE;
}

static void
skip_space (Scanner *scanner)
{
  while (scanner->p < scanner->end
         && (*scanner->p == ' ' || *scanner->p == '\n' || *scanner->p == '\r' || *scanner->p == '\t'))
    scanner->p++;
}

static gboolean
at_character (const Scanner *scanner, char character)
{
  return scanner->p < scanner->end && *scanner->p == character;
}

static gboolean
check_word (Scanner *scanner, const char *word)
{
  gsize length = strlen (word);

  if ((gsize)(scanner->end - scanner->p) < length || memcmp (scanner->p, word, length) != 0)
    return FALSE;
  scanner->p += length;
  return TRUE;
}

static gboolean
check_digits (Scanner *scanner)
{
  const char *first = scanner->p;

  while (scanner->p < scanner->end && g_ascii_isdigit (*scanner->p))
    scanner->p++;
  return scanner->p > first;
}

static gboolean
check_number (Scanner *scanner)
{
  const char *first = scanner->p;

  if (at_character (scanner, '-'))
    scanner->p++;
  if (at_character (scanner, '0'))
    scanner->p++;
  else if (!check_digits (scanner))
    return refuse (scanner, first, _ ("a value"));
  if (at_character (scanner, '.'))
    {
      scanner->p++;
      if (!check_digits (scanner))
        return refuse (scanner, first, _ ("a number such as 12, 0.5 or 1e-3"));
    }
  if (at_character (scanner, 'e') || at_character (scanner, 'E'))
    {
      scanner->p++;
      if (at_character (scanner, '+') || at_character (scanner, '-'))
        scanner->p++;
      if (!check_digits (scanner))
        return refuse (scanner, first, _ ("a number such as 12, 0.5 or 1e-3"));
    }
  if (scanner->p < scanner->end && (g_ascii_isalnum (*scanner->p) || *scanner->p == '.'))
    return refuse (scanner, first, _ ("a number such as 12, 0.5 or 1e-3"));
  return TRUE;
}

/* The four hexadecimal digits after \u, or −1. */
static int
read_unit (Scanner *scanner)
{
  int unit = 0;

  if (scanner->end - scanner->p < 4)
    return -1;
  for (int i = 0; i < 4; i++)
    {
      int digit = g_ascii_xdigit_value (*scanner->p++);

      if (digit < 0)
        return -1;
      unit = unit * 16 + digit;
    }
  return unit;
}

/* What follows \u, pairs of surrogates included. */
static gboolean
check_unicode_escape (Scanner *scanner)
{
  int unit = read_unit (scanner), second;

  if (unit <= 0)
    return FALSE;
  if (unit < 0xD800 || unit > 0xDFFF)
    return TRUE;
  if (unit > 0xDBFF || !check_word (scanner, "\\u"))
    return FALSE;
  second = read_unit (scanner);
  return second >= 0xDC00 && second <= 0xDFFF;
}

static gboolean
check_escape (Scanner *scanner)
{
  const char *first = scanner->p++;

  if (scanner->p < scanner->end && strchr ("\"\\/bfnrt", *scanner->p))
    {
      scanner->p++;
      return TRUE;
    }
  if (at_character (scanner, 'u'))
    {
      scanner->p++;
      if (check_unicode_escape (scanner))
        return TRUE;
      return refuse (scanner, first, _ ("an escape that spells a character, such as \\u00b5,"));
    }
  return refuse (scanner, first, _ ("one of the escapes \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u"));
}

static gboolean
check_string (Scanner *scanner)
{
  scanner->p++;
  while (scanner->p < scanner->end)
    {
      guchar c = (guchar)*scanner->p;

      if (c == '"')
        {
          scanner->p++;
          return TRUE;
        }
      if (c < 0x20)
        return refuse (scanner, scanner->p, _ ("a closing quote on the same line (a line end is written \\n)"));
      if (c != '\\')
        scanner->p++;
      else if (!check_escape (scanner))
        return FALSE;
    }
  return refuse (scanner, scanner->end, _ ("a closing quote"));
}

static gboolean
check_member (Scanner *scanner)
{
  if (!at_character (scanner, '"'))
    return refuse (scanner, scanner->p, _ ("a name in double quotes"));
  if (!check_string (scanner))
    return FALSE;
  skip_space (scanner);
  if (!at_character (scanner, ':'))
    return refuse (scanner, scanner->p, _ ("a colon"));
  scanner->p++;
  skip_space (scanner);
  return check_value (scanner);
}

/* Members or elements up to @closing, the opening bracket behind us. */
static gboolean
check_contents (Scanner *scanner, char closing)
{
  skip_space (scanner);
  if (at_character (scanner, closing))
    {
      scanner->p++;
      return TRUE;
    }
  for (;;)
    {
      if (!(closing == '}' ? check_member (scanner) : check_value (scanner)))
        return FALSE;
      skip_space (scanner);
      if (at_character (scanner, closing))
        {
          scanner->p++;
          return TRUE;
        }
      if (!at_character (scanner, ','))
        return refuse (scanner, scanner->p, closing == '}' ? _ ("a comma or }") : _ ("a comma or ]"));
      scanner->p++;
      skip_space (scanner);
    }
}

static gboolean
check_container (Scanner *scanner)
{
  char closing = *scanner->p == '{' ? '}' : ']';
  gsize line, column;

  if (scanner->depth == TRAMMEL_JSON_MAX_DEPTH)
    {
      trammel_encoding_locate (scanner->start, scanner->p, &line, &column);
      g_set_error (scanner->error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
                   _ ("line %zu, column %zu: found brackets more than %d deep; at most %d are wanted"), line, column,
                   TRAMMEL_JSON_MAX_DEPTH, TRAMMEL_JSON_MAX_DEPTH);
      return FALSE;
    }
  scanner->p++;
  scanner->depth++;
  if (!check_contents (scanner, closing))
    return FALSE;
  scanner->depth--;
  return TRUE;
}

static gboolean
check_value (Scanner *scanner)
{
  if (scanner->p >= scanner->end)
    return refuse (scanner, scanner->end, _ ("a value"));
  switch (*scanner->p)
    {
    case '{':
    case '[':
      return check_container (scanner);
    case '"':
      return check_string (scanner);
    case 't':
    case 'f':
    case 'n':
      if (check_word (scanner, "true") || check_word (scanner, "false") || check_word (scanner, "null"))
        return TRUE;
      return refuse (scanner, scanner->p, _ ("a value"));
    default:
      return check_number (scanner);
    }
}

gboolean
trammel_json_check (const char *text, gsize length, TrammelJson *out, GError **error)
{
  Scanner scanner = { text, text, text + length, 0, error };
  const char *first;

  skip_space (&scanner);
  first = scanner.p;
  if (!check_value (&scanner))
    return FALSE;
  *out = (TrammelJson){ first, (gsize)(scanner.p - first) };
  skip_space (&scanner);
  return scanner.p == scanner.end || refuse (&scanner, scanner.p, _ ("nothing more"));
}
