/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/quantity.h"

#include "base/error.h"
#include "base/exact-scan-private.h"
#include "base/number.h"
#include "base/unit-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* The finest division of a rule. */
#define FINEST_INCH_FRACTION 64

static TrammelExact
unit_factor (const TrammelUnit *unit)
{
  return (TrammelExact){ unit->num, unit->den, unit->pi };
}

const TrammelUnit *
trammel_unit_usual (TrammelDimension dimension)
{
  return dimension == TRAMMEL_DIMENSION_ANGLE ? trammel_unit_find (dimension, "deg") : trammel_unit_base (dimension);
}

static const TrammelUnit *
unit_when_none_is_written (TrammelDimension dimension, const TrammelUnit *assumed)
{
  /* A page assumes its display unit everywhere; where that cannot be meant, it is not. */
  if (assumed != NULL && trammel_unit_find (dimension, assumed->symbol) == assumed)
    return assumed;
  return trammel_unit_usual (dimension);
}

/* The unit that is all of @text, or NULL. */
static const TrammelUnit *
unit_written (const char *text, TrammelDimension dimension, const TrammelUnit *assumed)
{
  const char *symbol = trammel_exact_skip_space (text);
  if (*symbol == '\0')
    return unit_when_none_is_written (dimension, assumed);
  return trammel_unit_find (dimension, symbol);
}

/* Splits @text into number and unit; @plain as of trammel_exact_scan(). */
static TrammelScan
scan_quantity (const char *text, TrammelDimension dimension, const TrammelUnit *assumed, TrammelQuantity *out,
               const char **number_end, gboolean *plain)
{
  const TrammelScan scan = trammel_exact_scan (text, number_end, &out->number, plain);
  if (scan != TRAMMEL_SCAN_DONE && scan != TRAMMEL_SCAN_OVERFLOW)
    return scan;
  out->unit = unit_written (*number_end, dimension, assumed);
  return out->unit != NULL ? scan : TRAMMEL_SCAN_NO_NUMBER;
}

static gboolean
fail_reciprocal_zero (const char *text, TrammelDimension dimension, GError **error)
{
  g_autofree char *found = trammel_error_excerpt (text, -1);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found “%s”; %s, not zero, is wanted"), found,
               trammel_dimension_wanted (dimension));
  return FALSE;
}

gboolean
trammel_quantity_parse (const char *text, TrammelDimension dimension, const TrammelUnit *assumed, TrammelQuantity *out,
                        GError **error)
{
  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (out != NULL, FALSE);

  TrammelQuantity quantity;
  const char *end;
  const TrammelScan scan = scan_quantity (text, dimension, assumed, &quantity, &end, NULL);
  if (scan != TRAMMEL_SCAN_DONE)
    {
      trammel_exact_scan_error (scan, text, trammel_dimension_wanted (dimension), error);
      return FALSE;
    }
  if (quantity.unit->reciprocal && quantity.number.num == 0)
    return fail_reciprocal_zero (text, dimension, error);

  *out = quantity;
  return TRUE;
}

/* A decimal of @length bytes with whichever decimal sign. */
static gboolean
read_decimal (const char *text, gsize length, double *out)
{
  const char *start = trammel_exact_skip_space (text);
  const gssize rest = (gssize)(length - (gsize)(start - text));
  return trammel_number_from_text (start, rest, FALSE, out) || trammel_number_from_text (start, rest, TRUE, out);
}

/* @number of @unit in the base unit, by floating point. */
static double
scaled (double number, const TrammelUnit *unit)
{
  const double factor = trammel_unit_factor (unit);
  return unit->reciprocal ? factor / number : number * factor;
}

gboolean
trammel_quantity_parse_value (const char *text, TrammelDimension dimension, const TrammelUnit *assumed, double *out,
                              GError **error)
{
  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (out != NULL, FALSE);

  TrammelQuantity quantity;
  const char *end;
  gboolean plain;
  double number, value = NAN;
  const TrammelScan scan = scan_quantity (text, dimension, assumed, &quantity, &end, &plain);
  if (scan != TRAMMEL_SCAN_DONE && !(scan == TRAMMEL_SCAN_OVERFLOW && plain))
    {
      trammel_exact_scan_error (scan, text, trammel_dimension_wanted (dimension), error);
      return FALSE;
    }
  if (scan == TRAMMEL_SCAN_DONE && quantity.unit->reciprocal && quantity.number.num == 0)
    return fail_reciprocal_zero (text, dimension, error);

  /* In the base unit a decimal is what it is in a file; in others the exact product is rounded once, where it fits. */
  const gboolean base = quantity.unit->num == quantity.unit->den && quantity.unit->pi == 0;
  if (scan == TRAMMEL_SCAN_DONE && !(plain && base))
    value = trammel_quantity_value (quantity);
  else if (read_decimal (text, (gsize)(end - text), &number))
    value = scaled (number, quantity.unit);
  if (!isfinite (value))
    {
      g_autofree char *found = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found “%s”, which is too large; %s is wanted"), found,
                   trammel_dimension_wanted (dimension));
      return FALSE;
    }

  *out = value;
  return TRUE;
}

gboolean
trammel_quantity_base (TrammelQuantity q, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (q.unit != NULL, FALSE);

  if (q.unit->reciprocal)
    return trammel_exact_divide (unit_factor (q.unit), q.number, out, error);
  return trammel_exact_multiply (q.number, unit_factor (q.unit), out, error);
}

double
trammel_quantity_value (TrammelQuantity q)
{
  g_return_val_if_fail (q.unit != NULL, NAN);

  TrammelExact base;
  if (trammel_quantity_base (q, &base, NULL))
    return trammel_exact_to_double (base);
  return scaled (trammel_exact_to_double (q.number), q.unit);
}

gboolean
trammel_quantity_equal (TrammelQuantity a, TrammelQuantity b)
{
  return a.unit == b.unit && trammel_exact_equal (a.number, b.number);
}

/* Inches are halved: 1/4, 1 3/8; not 0.25, 1.375. */
static char *
inch_fraction (TrammelExact number)
{
  const gint64 size = number.num < 0 ? -number.num : number.num;
  const gint64 whole = size / number.den, rest = size % number.den;
  const char *minus = number.num < 0 ? "-" : "";
  if (whole == 0)
    return g_strdup_printf ("%s%" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, minus, rest, number.den);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT " %" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, minus, whole, rest,
                          number.den);
}

static gboolean
is_inch_fraction (TrammelQuantity q)
{
  const gint64 den = q.number.den;
  return strcmp (q.unit->symbol, "in") == 0 && q.number.pi == 0 && den > 1 && den <= FINEST_INCH_FRACTION
         && (den & (den - 1)) == 0;
}

char *
trammel_quantity_to_text (TrammelQuantity q)
{
  g_return_val_if_fail (q.unit != NULL, NULL);

  g_autofree char *number = is_inch_fraction (q) ? inch_fraction (q.number) : trammel_exact_to_text (q.number);
  if (q.unit->symbol[0] == '\0')
    return g_steal_pointer (&number);
  return g_strdup_printf ("%s %s", number, q.unit->symbol);
}
