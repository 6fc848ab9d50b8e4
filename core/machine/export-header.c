/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/export-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/number.h"

#define LONGEST_PREFIX 40

/* `HERON`, from whatever the machine is called: A–Z, 0–9 and single underscores, a letter first. */
static char *
macro_prefix (const char *name)
{
  g_autofree char *ascii = g_str_to_ascii (name, "C");
  GString *prefix = g_string_new (NULL);

  for (const char *p = ascii; *p && prefix->len < LONGEST_PREFIX; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (prefix, g_ascii_toupper (*p));
    else if (prefix->len > 0 && prefix->str[prefix->len - 1] != '_')
      g_string_append_c (prefix, '_');
  while (prefix->len > 0 && prefix->str[prefix->len - 1] == '_')
    g_string_truncate (prefix, prefix->len - 1);
  if (prefix->len == 0 || !g_ascii_isalpha (prefix->str[0]))
    g_string_prepend (prefix, prefix->len == 0 ? "MACHINE" : "MACHINE_");
  return g_string_free (prefix, FALSE);
}

/* Text that neither ends a comment nor begins one, nor joins or hides lines of a program. */
static char *
fit_for_comment (const char *text)
{
  GString *fit = g_string_new (NULL);

  for (const char *p = text; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (c < 0x80 && strchr ("*/\\?", (int)c))
        g_string_append_c (fit, '-');
      else
        g_string_append_unichar (fit, g_unichar_isprint (c) ? c : ' ');
    }
  return g_string_free (fit, FALSE);
}

/* A floating constant, also where the value is whole. */
static char *
constant (double value)
{
  g_autofree char *text = trammel_number_to_text (value);

  return strpbrk (text, ".e") ? g_steal_pointer (&text) : g_strconcat (text, ".0", NULL);
}

static void
define (GString *header, const char *prefix, const TrammelExportAxis *axis, const char *what, double value)
{
  g_autofree char *text = isfinite (value) ? constant (value) : NULL;

  if (text)
    g_string_append_printf (header, "#define %s_%c_%s %s\n", prefix, axis->letter, what, text);
}

static void
append_axis (GString *header, const char *prefix, const TrammelExportAxis *axis)
{
  gboolean degrees = axis->kind == TRAMMEL_AXIS_ROTARY;
  g_autofree char *u = constant (axis->u);
  g_autofree char *told
      = g_strdup_printf (_ ("axis %c, %s: counts per %s, standard uncertainty %s; direction of positive counts"),
                         axis->letter, trammel_axis_kind_label (axis->kind), axis->unit, u);
  g_autofree char *comment = fit_for_comment (told);

  g_string_append_printf (header, "\n/* %s */\n", comment);
  define (header, prefix, axis, degrees ? "COUNTS_PER_DEG" : "COUNTS_PER_MM", axis->counts_per_unit);
  define (header, prefix, axis, degrees ? "COUNTS_PER_DEG_U" : "COUNTS_PER_MM_U", axis->u);
  g_string_append_printf (header, "#define %s_%c_DIRECTION (%d)\n", prefix, axis->letter, axis->direction);
  define (header, prefix, axis, degrees ? "TRAVEL_DEG" : "TRAVEL_MM", axis->travel);
  define (header, prefix, axis, degrees ? "TOP_SPEED_DEG_PER_S" : "TOP_SPEED_MM_PER_S", axis->top_speed);
}

char *
trammel_export_header (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time)
{
  GString *header = g_string_new (NULL);
  g_autofree char *prefix = macro_prefix (trammel_machine_name (machine));
  g_autofree char *title
      = g_strdup_printf (_ ("%s: what its controller needs to know, %s"), trammel_machine_name (machine), time);
  g_autofree char *comment = fit_for_comment (title);

  g_string_append_printf (header, "/* %s */\n#ifndef %s_COUNTS_H\n#define %s_COUNTS_H\n", comment, prefix, prefix);
  for (gsize i = 0; i < n; i++)
    append_axis (header, prefix, &axes[i]);
  g_string_append_printf (header, "\n#endif\n");
  return g_string_free (header, FALSE);
}
