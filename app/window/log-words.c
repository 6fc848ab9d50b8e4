/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/log-words.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"

#define MOST_READINGS 60

char *
trammel_log_words_time (const TrammelLogEntry *entry)
{
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  g_autoptr (GDateTime) time = g_date_time_new_from_iso8601 (entry->time, utc);
  g_autoptr (GDateTime) local = time ? g_date_time_to_local (time) : NULL;
  return local ? g_date_time_format (local, "%x %R") : g_strdup (entry->time);
}

static char *
value_and_interval (double value, double u)
{
  return u > 0 ? trammel_display_interval (value, TRAMMEL_DISPLAY_95 * u) : trammel_display_significant (value, 7);
}

static void
append_change (GString *text, const TrammelMachine *machine, const TrammelLogChange *change)
{
  int axis = trammel_machine_axis_index (machine, change->letter);
  gboolean rotary = axis >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)axis)) == TRAMMEL_AXIS_ROTARY;
  g_autofree char *before = change->before_u > 0 ? trammel_display_rounded (change->before, change->before_u)
                                                 : trammel_display_significant (change->before, 7);
  g_autofree char *after = value_and_interval (change->after, change->after_u);
  if (text->len > 0)
    g_string_append_c (text, '\n');
  /* Translators: letter of the axis, counts per unit before, counts per unit after with its interval */
  g_string_append_printf (text, rotary ? _ ("%c:  %s → %s per degree") : _ ("%c:  %s → %s per mm"), change->letter,
                          before, after);
}

char *
trammel_log_words_changes (const TrammelMachine *machine, const TrammelLogEntry *entry)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < entry->n_changes; i++)
    append_change (text, machine, &entry->changes[i]);
  return g_string_free (text, FALSE);
}

char *
trammel_log_words_readings (const TrammelLogEntry *entry)
{
  gsize n = entry->readings ? trammel_readings_length (entry->readings) : 0;
  gsize aside = entry->set_aside ? trammel_readings_length (entry->set_aside) : 0;
  g_autofree char *used = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%lu reading", "%lu readings", n), (gulong)n);
  if (aside == 0)
    return g_steal_pointer (&used);
  return g_strdup_printf (_ ("%s, %lu set aside"), used, (gulong)aside);
}

/* What the axis is measured in; NULL: degrees. */
static const TrammelUnit *
unit_of_axis (const TrammelMachine *machine, char letter)
{
  int axis = trammel_machine_axis_index (machine, letter);
  gboolean rotary = axis >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)axis)) == TRAMMEL_AXIS_ROTARY;
  return rotary ? NULL : trammel_machine_display_unit (machine);
}

/* Play and homing, where the adoption tells of them. */
static void
append_found (GString *text, const TrammelMachine *machine, const TrammelLogChange *change)
{
  const TrammelUnit *unit = unit_of_axis (machine, change->letter);
  if (change->has_lash)
    {
      g_autofree char *value = trammel_display_travel (change->lash.value, unit);
      g_autofree char *half = trammel_display_travel (TRAMMEL_DISPLAY_95 * change->lash.u, unit);
      /* Translators: letter of the axis, lost motion, half of its 95 % interval */
      g_string_append_printf (text, _ ("\n%c: play %s (± %s)"), change->letter, value, half);
    }
  if (change->has_home)
    {
      g_autofree char *s = trammel_display_travel (change->home.s, unit);
      g_string_append_printf (
          text,
          g_dngettext (GETTEXT_PACKAGE, "\n%c: homing repeats with a standard deviation of %s (%lu home)",
                       "\n%c: homing repeats with a standard deviation of %s (%lu homes)", (gulong)change->home.n),
          change->letter, s, (gulong)change->home.n);
    }
}

static void
append_reading (GString *text, const TrammelMachine *machine, const TrammelReading *reading)
{
  const TrammelUnit *length = unit_of_axis (machine, reading->along.axes[0]);
  double factor = length ? trammel_unit_factor (length) : 1;
  const char *unit = length ? trammel_unit_symbol (length) : "°";
  g_autofree char *along = trammel_direction_to_text (&reading->along);
  g_autofree char *nominal = trammel_display_significant (reading->nominal / factor, 7);
  g_autofree char *measured = trammel_display_significant (reading->measured / factor, 7);
  const char *kind = trammel_reading_kind_label ((TrammelReadingKind)reading->kind);
  if (isnan (reading->nominal))
    /* Translators: kind of reading, direction, measured value, unit */
    g_string_append_printf (text, _ ("\n%s %s: measured %s %s"), kind, along, measured, unit);
  else
    /* Translators: kind of reading, direction, nominal and measured value, unit */
    g_string_append_printf (text, _ ("\n%s %s %s: measured %s %s"), kind, along, nominal, measured, unit);
}

static void
append_readings (GString *text, const TrammelMachine *machine, const TrammelReadings *readings)
{
  gsize n = 0;
  const TrammelReading *rows = readings ? trammel_readings_rows (readings, &n) : NULL;
  for (gsize i = 0; i < MIN (n, MOST_READINGS); i++)
    append_reading (text, machine, &rows[i]);
  if (n > MOST_READINGS)
    g_string_append_printf (text, _ ("\n… and %lu more; the machine file has them all"), (gulong)(n - MOST_READINGS));
}

static void
append_fit (GString *text, const TrammelLogEntry *entry)
{
  g_autofree char *dof = g_strdup_printf ("%" G_GINT64_FORMAT, entry->dof);
  g_autofree char *chi2 = trammel_display_significant (entry->chi2, 4);
  g_autofree char *p = trammel_display_p_value (entry->p_value);
  if (g_strcmp0 (entry->scatter, "estimated") == 0)
    g_string_append_printf (text, _ ("Scatter estimated from the readings, %s degrees of freedom"), dof);
  else if (isnan (entry->p_value))
    g_string_append (text, _ ("Stated uncertainties believed; too few readings to test them"));
  else
    g_string_append_printf (text, _ ("Stated uncertainties believed; χ² %s on %s, p %s"), chi2, dof, p);
  if (entry->birge > 1)
    {
      g_autofree char *birge = trammel_display_significant (entry->birge, 3);
      g_string_append_printf (text, _ ("; all of them widened × %s"), birge);
    }
}

char *
trammel_log_words_details (const TrammelMachine *machine, const TrammelLogEntry *entry)
{
  GString *text = g_string_new (NULL);
  append_fit (text, entry);
  for (gsize i = 0; i < entry->n_changes; i++)
    append_found (text, machine, &entry->changes[i]);
  append_readings (text, machine, entry->readings);
  if (entry->set_aside && trammel_readings_length (entry->set_aside) > 0)
    {
      g_string_append (text, _ ("\n\nSet aside:"));
      append_readings (text, machine, entry->set_aside);
    }
  if (entry->note && *entry->note)
    g_string_append_printf (text, "\n\n%s", entry->note);
  return g_string_free (text, FALSE);
}
