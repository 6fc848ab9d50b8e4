/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/gears.h"

#include "base/error.h"
#include "drive/gear.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_OF_A_SIZE 1000

struct _TrammelGears
{
  gatomicrefcount references;
  GArray *sizes; /* of TrammelGearSize */
};

static gboolean
fail_parse (const char *found, GError **error)
{
  g_autofree char *excerpt = trammel_error_excerpt (found, -1);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
               _ ("found “%s”; teeth, and perhaps how many and the module, as 24, 24x2 or 24x2@0.5, are wanted"),
               excerpt);
  return FALSE;
}

/* A whole number at *@p, which moves behind it; −1 where there is none, MAX + 1 where it is larger than @most. */
static int
take_whole (const char **p, int most)
{
  int value = 0;
  if (!g_ascii_isdigit (**p))
    return -1;
  for (; g_ascii_isdigit (**p); (*p)++)
    value = MIN (value * 10 + (**p - '0'), most + 1);
  return value;
}

static gboolean
skip_times (const char **p)
{
  static const char *const signs[] = { "x", "X", "×", "*" };
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (*p, signs[i]))
      {
        *p += strlen (signs[i]);
        return TRUE;
      }
  return FALSE;
}

static gboolean
within (int value, int most, const char *what, GError **error)
{
  if (value >= 1 && value <= most)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("%s; 1 to %d is wanted"), what, most);
  return FALSE;
}

static gboolean
read_module (const char *text, TrammelExact *out, GError **error)
{
  TrammelQuantity module;
  if (!trammel_quantity_parse (text, TRAMMEL_DIMENSION_MODULE, NULL, &module, error)
      || !trammel_quantity_base (module, out, error))
    return FALSE;
  if (out->num > 0 && out->pi == 0 && trammel_exact_to_double (*out) <= TRAMMEL_GEAR_MOST_MODULE)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("the module; more than 0 and at most %d mm is wanted"),
               TRAMMEL_GEAR_MOST_MODULE);
  return FALSE;
}

/* One size, `24x2@0.5`, without white space. */
static gboolean
read_size (const char *text, TrammelGearSize *out, GError **error)
{
  const char *p = text;
  *out = (TrammelGearSize){ .count = 1, .module = TRAMMEL_EXACT_ONE };

  out->teeth = take_whole (&p, TRAMMEL_GEAR_MOST_TEETH);
  if (out->teeth < 0)
    return fail_parse (text, error);
  if (skip_times (&p))
    out->count = take_whole (&p, MOST_OF_A_SIZE);
  if (out->count < 0 || (*p != '\0' && *p != '@'))
    return fail_parse (text, error);
  if (!within (out->teeth, TRAMMEL_GEAR_MOST_TEETH, _ ("teeth"), error)
      || !within (out->count, MOST_OF_A_SIZE, _ ("how many of a gear"), error)
      || (*p == '@' && !read_module (p + 1, &out->module, error)))
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_prefix_error (error, "“%s”: ", excerpt);
      return FALSE;
    }
  return TRUE;
}

static int
compare_exact (TrammelExact a, TrammelExact b)
{
  const __int128 left = (__int128)a.num * b.den, right = (__int128)b.num * a.den;
  return (left > right) - (left < right);
}

static int
compare_sizes (gconstpointer a, gconstpointer b)
{
  const TrammelGearSize *one = a, *other = b;
  const int by_module = compare_exact (one->module, other->module);
  return by_module != 0 ? by_module : (one->teeth > other->teeth) - (one->teeth < other->teeth);
}

static void
add_size (GArray *sizes, const TrammelGearSize *gear)
{
  for (guint i = 0; i < sizes->len; i++)
    {
      TrammelGearSize *same = &g_array_index (sizes, TrammelGearSize, i);
      if (compare_sizes (same, gear) != 0)
        continue;
      same->count = MIN (same->count + gear->count, MOST_OF_A_SIZE);
      return;
    }
  g_array_append_val (sizes, *gear);
}

static gboolean
is_joint (gunichar c)
{
  return c == 'x' || c == 'X' || c == 0xd7 || c == '*' || c == '@';
}

/* @text with blanks for separators, and none around signs of multiplication and @. (transfer full) */
static char *
drawn_together (const char *text)
{
  GString *whole = g_string_new (NULL);
  gunichar last = ',';
  gboolean blank = FALSE;
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      const gunichar c = g_utf8_get_char (p);
      const gboolean separates = c == ',' || c == ';';
      if (!separates && g_unichar_isspace (c))
        {
          blank = TRUE;
          continue;
        }
      if (separates || (blank && !is_joint (c) && !is_joint (last)))
        g_string_append_c (whole, ' ');
      if (!separates)
        g_string_append_unichar (whole, c);
      last = c;
      blank = FALSE;
    }
  return g_string_free (whole, FALSE);
}

static gboolean
read_sizes (const char *text, GArray *sizes, GError **error)
{
  g_autofree char *whole = drawn_together (text);
  g_auto (GStrv) parts = g_strsplit (whole, " ", -1);

  for (gsize i = 0; parts[i] != NULL; i++)
    {
      TrammelGearSize gear;
      if (parts[i][0] == '\0')
        continue;
      if (!read_size (parts[i], &gear, error))
        return FALSE;
      add_size (sizes, &gear);
      if (sizes->len > TRAMMEL_GEARS_MOST_SIZES)
        {
          g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
                       _ ("found more than %d sizes of gears; at most that many are wanted"), TRAMMEL_GEARS_MOST_SIZES);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
count_modules (const GArray *sizes, GError **error)
{
  int n = 0;
  for (guint i = 0; i < sizes->len; i++)
    if (i == 0
        || !trammel_exact_equal (g_array_index (sizes, TrammelGearSize, i - 1).module,
                                 g_array_index (sizes, TrammelGearSize, i).module))
      n++;
  if (n <= TRAMMEL_GEARS_MOST_MODULES)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("found gears of %d modules; at most %d are wanted"), n,
               TRAMMEL_GEARS_MOST_MODULES);
  return FALSE;
}

TrammelGears *
trammel_gears_parse (const char *text, GError **error)
{
  g_return_val_if_fail (text != NULL, NULL);

  g_autoptr (GArray) sizes = g_array_new (FALSE, FALSE, sizeof (TrammelGearSize));
  if (!g_utf8_validate (text, -1, NULL))
    {
      fail_parse (text, error);
      return NULL;
    }
  if (!read_sizes (text, sizes, error))
    return NULL;
  if (sizes->len == 0)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
                           _ ("found no gears; teeth between commas, as 12, 16, 24x2, are wanted"));
      return NULL;
    }
  g_array_sort (sizes, compare_sizes);
  if (!count_modules (sizes, error))
    return NULL;

  TrammelGears *gears = g_new0 (TrammelGears, 1);
  g_atomic_ref_count_init (&gears->references);
  gears->sizes = g_steal_pointer (&sizes);
  return gears;
}

TrammelGears *
trammel_gears_ref (const TrammelGears *gears)
{
  g_return_val_if_fail (gears != NULL, NULL);

  TrammelGears *shared = (TrammelGears *)gears;
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_gears_unref (TrammelGears *gears)
{
  if (gears == NULL || !g_atomic_ref_count_dec (&gears->references))
    return;
  g_array_unref (gears->sizes);
  g_free (gears);
}

char *
trammel_gears_to_text (const TrammelGears *gears)
{
  g_return_val_if_fail (gears != NULL, NULL);

  GString *text = g_string_new (NULL);
  for (guint i = 0; i < gears->sizes->len; i++)
    {
      const TrammelGearSize *gear = trammel_gears_size (gears, i);
      g_string_append_printf (text, "%s%d", i == 0 ? "" : ", ", gear->teeth);
      if (gear->count > 1)
        g_string_append_printf (text, "x%d", gear->count);
      if (!trammel_exact_equal (gear->module, TRAMMEL_EXACT_ONE))
        {
          g_autofree char *module = trammel_exact_to_text (gear->module);
          g_string_append_printf (text, "@%s", module);
        }
    }
  return g_string_free (text, FALSE);
}

gsize
trammel_gears_n_sizes (const TrammelGears *gears)
{
  g_return_val_if_fail (gears != NULL, 0);

  return gears->sizes->len;
}

const TrammelGearSize *
trammel_gears_size (const TrammelGears *gears, gsize i)
{
  g_return_val_if_fail (gears != NULL && i < gears->sizes->len, NULL);

  return &g_array_index (gears->sizes, TrammelGearSize, i);
}
