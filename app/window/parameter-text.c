/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/parameter-text.h"

#include <glib/gi18n.h>
#include <string.h>

#include "draw/display.h"

#define MINUS "\xe2\x88\x92"
#define DIGITS 6
#define FULL_DIGITS 12
#define FULL_DIGITS_OF_U 7

static gboolean
is_rotary (const TrammelMachine *machine, char letter)
{
  int i = trammel_machine_axis_index (machine, letter);
  return i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, i)) == TRAMMEL_AXIS_ROTARY;
}

static TrammelParameterUnit
unit_of_length (const TrammelMachine *machine)
{
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  gboolean inch = unit != trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  return (TrammelParameterUnit){ trammel_unit_factor (unit), inch ? " in" : " mm", inch ? " in" : " mm" };
}

TrammelParameterUnit
trammel_parameter_unit (const TrammelMachine *machine, const char *name)
{
  TrammelParameterKind kind;
  char axes[2];

  if (!trammel_parameter_parse (name, &kind, axes, NULL, NULL))
    return (TrammelParameterUnit){ 1, "", "" };
  switch (kind)
    {
    case TRAMMEL_PARAMETER_SCALE:
    case TRAMMEL_PARAMETER_SHRINK:
    case TRAMMEL_PARAMETER_INSTRUMENT:
      return (TrammelParameterUnit){ 0.01, " %", " %" };
    case TRAMMEL_PARAMETER_SKEW:
      return (TrammelParameterUnit){ G_PI / 180, "°", " deg" };
    case TRAMMEL_PARAMETER_LASH:
    case TRAMMEL_PARAMETER_DATUM:
      if (is_rotary (machine, axes[0]))
        return (TrammelParameterUnit){ 1, "°", " deg" };
      return unit_of_length (machine);
    case TRAMMEL_PARAMETER_BEAD:
    case TRAMMEL_PARAMETER_FOOT:
    default:
      return unit_of_length (machine);
    }
}

char *
trammel_parameter_amount_text (const TrammelMachine *machine, const char *name, double amount)
{
  TrammelParameterUnit unit = trammel_parameter_unit (machine, name);
  g_autofree char *number = trammel_display_significant (amount / unit.factor, DIGITS);
  return g_strconcat (number, unit.symbol, NULL);
}

char *
trammel_parameter_interval_text (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  TrammelParameterUnit unit = trammel_parameter_unit (machine, parameter->name);
  g_autofree char *interval
      = trammel_display_interval (parameter->value / unit.factor, (parameter->high - parameter->low) / 2 / unit.factor);
  return g_strconcat (interval, unit.symbol, NULL);
}

char *
trammel_parameter_full_text (const TrammelMachine *machine, const TrammelParameter *parameter)
{
  gboolean scale = parameter->kind == TRAMMEL_PARAMETER_SCALE;
  TrammelParameterUnit unit
      = scale ? (TrammelParameterUnit){ 1, "", "" } : trammel_parameter_unit (machine, parameter->name);
  g_autofree char *u = trammel_display_significant (parameter->u / unit.factor, FULL_DIGITS_OF_U);
  g_autofree char *value
      = trammel_display_significant (((scale ? 1 : 0) + parameter->value) / unit.factor, FULL_DIGITS);
  if (scale)
    return g_strdup_printf (_ ("moves %s times what is commanded, u %s"), value, u);
  /* Translators: value, its unit, standard uncertainty, its unit */
  return g_strdup_printf (_ ("%s%s, u %s%s"), value, unit.symbol, u, unit.symbol);
}

static gboolean
ends_with_digit (const char *text)
{
  gsize length = strlen (text);
  return length > 0 && (g_ascii_isdigit (text[length - 1]) || strchr (".,", text[length - 1]));
}

/* The minus that numbers on screen have is not that of numbers typed. */
static char *
with_plain_minus (const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, MINUS, -1);
  return g_strstrip (g_strjoinv ("-", parts));
}

gboolean
trammel_parameter_parse_amount (const TrammelMachine *machine, const char *name, const char *text, double *out,
                                GError **error)
{
  g_return_val_if_fail (machine != NULL && name != NULL && text != NULL && out != NULL, FALSE);

  g_autofree char *plain = with_plain_minus (text);
  const char *unit = ends_with_digit (plain) ? trammel_parameter_unit (machine, name).typed : "";
  g_autofree char *whole = g_strconcat (plain, unit, NULL);
  return trammel_stated_parse_amount (name, whole, out, error);
}
