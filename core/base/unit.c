/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/unit-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define LONGEST_SPELLING 32

/* The first row of each dimension is its base unit. Exact by definition: the inch 25.4 mm and the pound 0.45359237 kg
 * (international yard and pound agreement, 1959), standard gravity 9.80665 m/s² (3rd CGPM, 1901). */
/* clang-format off */
static const TrammelUnit units[] = {
  { "",        "",                            TRAMMEL_DIMENSION_NUMBER, 1, 1, 0, FALSE, FALSE },
  { "%",       "%|percent",                   TRAMMEL_DIMENSION_NUMBER, 1, 100, 0, FALSE, FALSE },

  { "mm",      "mm|millimeter|millimeters|millimetre|millimetres", TRAMMEL_DIMENSION_LENGTH, 1, 1, 0, FALSE, FALSE },
  { "cm",      "cm|centimeter|centimeters|centimetre|centimetres", TRAMMEL_DIMENSION_LENGTH, 10, 1, 0, FALSE, FALSE },
  { "m",       "m|meter|meters|metre|metres", TRAMMEL_DIMENSION_LENGTH, 1000, 1, 0, FALSE, TRUE },
  { "µm",      "um|micron|microns|micrometer|micrometers", TRAMMEL_DIMENSION_LENGTH, 1, 1000, 0, FALSE, FALSE },
  { "in",      "in|\"|''|inch|inches",        TRAMMEL_DIMENSION_LENGTH, 127, 5, 0, FALSE, FALSE },
  { "ft",      "ft|'|foot|feet",              TRAMMEL_DIMENSION_LENGTH, 1524, 5, 0, FALSE, FALSE },
  { "mil",     "mil|mils",                    TRAMMEL_DIMENSION_LENGTH, 127, 5000, 0, FALSE, FALSE },
  { "thou",    "thou",                        TRAMMEL_DIMENSION_LENGTH, 127, 5000, 0, FALSE, FALSE },

  { "tpi",     "tpi|threadsperinch",          TRAMMEL_DIMENSION_PITCH, 127, 5, 0, TRUE, FALSE },
  { "DP",      "DP|diametralpitch",           TRAMMEL_DIMENSION_MODULE, 127, 5, 0, TRUE, FALSE },

  { "rad",     "rad|radian|radians",          TRAMMEL_DIMENSION_ANGLE, 1, 1, 0, FALSE, FALSE },
  { "mrad",    "mrad",                        TRAMMEL_DIMENSION_ANGLE, 1, 1000, 0, FALSE, TRUE },
  { "deg",     "deg|degree|degrees",          TRAMMEL_DIMENSION_ANGLE, 1, 180, 1, FALSE, FALSE },
  { "arcmin",  "arcmin|'",                    TRAMMEL_DIMENSION_ANGLE, 1, 10800, 1, FALSE, FALSE },
  { "arcsec",  "arcsec|\"|''",                TRAMMEL_DIMENSION_ANGLE, 1, 648000, 1, FALSE, FALSE },
  { "turn",    "turn|turns|rev|revs",         TRAMMEL_DIMENSION_ANGLE, 2, 1, 1, FALSE, FALSE },

  { "kg",      "kg",                          TRAMMEL_DIMENSION_MASS, 1, 1, 0, FALSE, FALSE },
  { "g",       "g|gram|grams",                TRAMMEL_DIMENSION_MASS, 1, 1000, 0, FALSE, FALSE },
  { "lb",      "lb|lbs|lbm",                  TRAMMEL_DIMENSION_MASS, 45359237, 100000000, 0, FALSE, FALSE },
  { "oz",      "oz",                          TRAMMEL_DIMENSION_MASS, 45359237, 1600000000, 0, FALSE, FALSE },

  { "N",       "N|newton|newtons",            TRAMMEL_DIMENSION_FORCE, 1, 1, 0, FALSE, FALSE },
  { "mN",      "mN",                          TRAMMEL_DIMENSION_FORCE, 1, 1000, 0, FALSE, TRUE },
  { "kN",      "kN",                          TRAMMEL_DIMENSION_FORCE, 1000, 1, 0, FALSE, FALSE },
  { "kgf",     "kgf|kp",                      TRAMMEL_DIMENSION_FORCE, 196133, 20000, 0, FALSE, FALSE },
  { "gf",      "gf",                          TRAMMEL_DIMENSION_FORCE, 196133, 20000000, 0, FALSE, FALSE },
  { "lbf",     "lbf",                         TRAMMEL_DIMENSION_FORCE, 8896443230521, 2000000000000, 0, FALSE, FALSE },
  { "ozf",     "ozf",                         TRAMMEL_DIMENSION_FORCE, 8896443230521, 32000000000000, 0, FALSE, FALSE },

  { "N·m",     "Nm",                          TRAMMEL_DIMENSION_TORQUE, 1, 1, 0, FALSE, FALSE },
  { "N·cm",    "Ncm",                         TRAMMEL_DIMENSION_TORQUE, 1, 100, 0, FALSE, FALSE },
  { "N·mm",    "Nmm",                         TRAMMEL_DIMENSION_TORQUE, 1, 1000, 0, FALSE, FALSE },
  { "mN·m",    "mNm",                         TRAMMEL_DIMENSION_TORQUE, 1, 1000, 0, FALSE, TRUE },
  { "kgf·cm",  "kgfcm|kgcm|kpcm",             TRAMMEL_DIMENSION_TORQUE, 196133, 2000000, 0, FALSE, FALSE },
  { "ozf·in",  "ozfin|ozin", TRAMMEL_DIMENSION_TORQUE, 1129848290276167, 160000000000000000, 0, FALSE, FALSE },
  { "lbf·in",  "lbfin|lbin", TRAMMEL_DIMENSION_TORQUE, 1129848290276167, 10000000000000000, 0, FALSE, FALSE },
  { "lbf·ft",  "lbfft|lbft|ftlb|ftlbf", TRAMMEL_DIMENSION_TORQUE, 3389544870828501, 2500000000000000, 0, FALSE, FALSE },

  { "kg·m²",   "kgm2",                        TRAMMEL_DIMENSION_INERTIA, 1, 1, 0, FALSE, FALSE },
  { "kg·cm²",  "kgcm2",                       TRAMMEL_DIMENSION_INERTIA, 1, 10000, 0, FALSE, FALSE },
  { "g·cm²",   "gcm2",                        TRAMMEL_DIMENSION_INERTIA, 1, 10000000, 0, FALSE, FALSE },

  { "mm/s",    "mm/s|mm/sec",                 TRAMMEL_DIMENSION_SPEED, 1, 1, 0, FALSE, FALSE },
  { "mm/min",  "mm/min",                      TRAMMEL_DIMENSION_SPEED, 1, 60, 0, FALSE, FALSE },
  { "cm/s",    "cm/s|cm/sec",                 TRAMMEL_DIMENSION_SPEED, 10, 1, 0, FALSE, FALSE },
  { "m/s",     "m/s|m/sec",                   TRAMMEL_DIMENSION_SPEED, 1000, 1, 0, FALSE, TRUE },
  { "m/min",   "m/min",                       TRAMMEL_DIMENSION_SPEED, 50, 3, 0, FALSE, TRUE },
  { "in/s",    "in/s|in/sec|ips",             TRAMMEL_DIMENSION_SPEED, 127, 5, 0, FALSE, FALSE },
  { "in/min",  "in/min|ipm",                  TRAMMEL_DIMENSION_SPEED, 127, 300, 0, FALSE, FALSE },

  { "rad/s",   "rad/s|rad/sec",               TRAMMEL_DIMENSION_ROTATION, 1, 1, 0, FALSE, FALSE },
  { "rpm",     "rpm|rev/min|r/min|1/min|/min|turns/min|turn/min", TRAMMEL_DIMENSION_ROTATION, 1, 30, 1, FALSE, FALSE },
  { "rev/s",   "rev/s|rev/sec|rps|turns/s|turn/s", TRAMMEL_DIMENSION_ROTATION, 2, 1, 1, FALSE, FALSE },
  { "deg/s",   "deg/s|deg/sec",               TRAMMEL_DIMENSION_ROTATION, 1, 180, 1, FALSE, FALSE },

  { "s",       "s|sec|second|seconds",        TRAMMEL_DIMENSION_TIME, 1, 1, 0, FALSE, FALSE },
  { "ms",      "ms",                          TRAMMEL_DIMENSION_TIME, 1, 1000, 0, FALSE, TRUE },
  { "min",     "min|minute|minutes",          TRAMMEL_DIMENSION_TIME, 60, 1, 0, FALSE, FALSE },
  { "h",       "h|hour|hours",                TRAMMEL_DIMENSION_TIME, 3600, 1, 0, FALSE, FALSE },

  { "/s",      "/s|1/s|counts/s|steps/s|pulses/s|/sec", TRAMMEL_DIMENSION_RATE, 1, 1, 0, FALSE, FALSE },
  { "Hz",      "Hz",                          TRAMMEL_DIMENSION_RATE, 1, 1, 0, FALSE, FALSE },
  { "kHz",     "kHz",                         TRAMMEL_DIMENSION_RATE, 1000, 1, 0, FALSE, FALSE },
  { "MHz",     "MHz",                         TRAMMEL_DIMENSION_RATE, 1000000, 1, 0, FALSE, TRUE },

  { "mm/s²",   "mm/s2|mm/s/s|mm/sec2",        TRAMMEL_DIMENSION_ACCELERATION, 1, 1, 0, FALSE, FALSE },
  { "m/s²",    "m/s2|m/s/s|m/sec2",           TRAMMEL_DIMENSION_ACCELERATION, 1000, 1, 0, FALSE, TRUE },
  { "in/s²",   "in/s2|in/s/s|in/sec2",        TRAMMEL_DIMENSION_ACCELERATION, 127, 5, 0, FALSE, FALSE },

  { "rad/s²",  "rad/s2|rad/s/s|rad/sec2",     TRAMMEL_DIMENSION_ANGULAR_ACCELERATION, 1, 1, 0, FALSE, FALSE },
  { "deg/s²",  "deg/s2|deg/s/s|deg/sec2",     TRAMMEL_DIMENSION_ANGULAR_ACCELERATION, 1, 180, 1, FALSE, FALSE },
  { "rev/s²",  "rev/s2|rev/s/s|turn/s2|turns/s2", TRAMMEL_DIMENSION_ANGULAR_ACCELERATION, 2, 1, 1, FALSE, FALSE },

  { "kg/m³",   "kg/m3",                       TRAMMEL_DIMENSION_DENSITY, 1, 1, 0, FALSE, FALSE },
  { "g/cm³",   "g/cm3|g/cc|kg/dm3|kg/l",      TRAMMEL_DIMENSION_DENSITY, 1000, 1, 0, FALSE, FALSE },
  { "lb/in³",  "lb/in3|lbs/in3|lbm/in3",      TRAMMEL_DIMENSION_DENSITY, 56699046250, 2048383, 0, FALSE, FALSE },

  { "N/mm²",   "N/mm2",                       TRAMMEL_DIMENSION_STRESS, 1, 1, 0, FALSE, FALSE },
  { "MPa",     "MPa",                         TRAMMEL_DIMENSION_STRESS, 1, 1, 0, FALSE, TRUE },
  { "GPa",     "GPa",                         TRAMMEL_DIMENSION_STRESS, 1000, 1, 0, FALSE, FALSE },
  { "kPa",     "kPa",                         TRAMMEL_DIMENSION_STRESS, 1, 1000, 0, FALSE, FALSE },
  { "psi",     "psi|lbf/in2",                 TRAMMEL_DIMENSION_STRESS, 8896443230521, 1290320000000000, 0, FALSE, FALSE },
  { "ksi",     "ksi",                         TRAMMEL_DIMENSION_STRESS, 8896443230521, 1290320000000, 0, FALSE, FALSE },
};
/* clang-format on */

static gboolean
belongs (const TrammelUnit *unit, TrammelDimension dimension)
{
  if (unit->dimension == dimension)
    return TRUE;
  if (dimension == TRAMMEL_DIMENSION_PITCH || dimension == TRAMMEL_DIMENSION_MODULE)
    return unit->dimension == TRAMMEL_DIMENSION_LENGTH;
  if (dimension == TRAMMEL_DIMENSION_LASH)
    return unit->dimension == TRAMMEL_DIMENSION_LENGTH || unit->dimension == TRAMMEL_DIMENSION_ANGLE;
  return FALSE;
}

static gboolean
copy_if (const char **p, const char *from, const char *to, char plain[LONGEST_SPELLING], gsize *n)
{
  const gsize length = strlen (from), added = strlen (to);
  if (strncmp (*p, from, length) != 0 || *n + added >= LONGEST_SPELLING)
    return FALSE;
  memcpy (plain + *n, to, added);
  *n += added;
  *p += length;
  return TRUE;
}

/* The form in which the table spells units; FALSE for what is too long to be one. */
static gboolean
make_plain (const char *text, char plain[LONGEST_SPELLING])
{
  static const char *const replaced[][2] = {
    { " ", "" },       { "\t", "" },       { "·", "" },        { "⋅", "" },         { "*", "" },
    { "^", "" },       { "\u00a0", "" },   { "\u202f", "" },   { "\u2009", "" },    { "²", "2" },
    { "³", "3" },      { "\u00b5", "u" },  { "\u03bc", "u" },  { "°", "deg" },      { "\u2032", "'" },
    { "\u2019", "'" }, { "\u2033", "\"" }, { "\u201d", "\"" }, { "min⁻¹", "/min" }, { "s⁻¹", "/s" },
  };

  gsize n = 0;
  for (const char *p = text; *p != '\0';)
    {
      gboolean done = FALSE;
      for (gsize i = 0; i < G_N_ELEMENTS (replaced) && !done; i++)
        done = copy_if (&p, replaced[i][0], replaced[i][1], plain, &n);
      if (done)
        continue;
      if (n + 1 >= LONGEST_SPELLING)
        return FALSE;
      plain[n++] = *p++;
    }
  plain[n] = '\0';
  return TRUE;
}

static gboolean
is_spelled (const TrammelUnit *unit, const char *plain, gboolean any_case)
{
  const gsize length = strlen (plain);
  for (const char *spelling = unit->spellings;; spelling++)
    {
      const char *bar = spelling + strcspn (spelling, "|");
      if ((gsize)(bar - spelling) == length
          && (any_case ? g_ascii_strncasecmp (spelling, plain, length) : strncmp (spelling, plain, length)) == 0)
        return TRUE;
      if (*bar == '\0')
        return FALSE;
      spelling = bar;
    }
}

static const TrammelUnit *
find_spelled (TrammelDimension dimension, const char *plain, gboolean any_case)
{
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (belongs (&units[i], dimension) && !(any_case && units[i].strict) && is_spelled (&units[i], plain, any_case))
      return &units[i];
  return NULL;
}

/* For a play, 5′ may be feet or minutes of arc. */
static gboolean
is_unclear (TrammelDimension dimension, const char *plain)
{
  return dimension == TRAMMEL_DIMENSION_LASH && (plain[0] == '\'' || plain[0] == '"');
}

const TrammelUnit *
trammel_unit_find (TrammelDimension dimension, const char *symbol)
{
  g_return_val_if_fail (symbol != NULL, NULL);

  char plain[LONGEST_SPELLING];
  if (!make_plain (symbol, plain) || is_unclear (dimension, plain))
    return NULL;

  const TrammelUnit *unit = find_spelled (dimension, plain, FALSE);
  return unit != NULL ? unit : find_spelled (dimension, plain, TRUE);
}

const TrammelUnit *
trammel_unit_base (TrammelDimension dimension)
{
  const gboolean length = dimension == TRAMMEL_DIMENSION_PITCH || dimension == TRAMMEL_DIMENSION_MODULE
                          || dimension == TRAMMEL_DIMENSION_LASH;
  const TrammelDimension own = length ? TRAMMEL_DIMENSION_LENGTH : dimension;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (units[i].dimension == own)
      return &units[i];
  g_return_val_if_reached (&units[0]);
}

const char *
trammel_unit_symbol (const TrammelUnit *unit)
{
  g_return_val_if_fail (unit != NULL, "");

  return unit->symbol;
}

TrammelDimension
trammel_unit_dimension (const TrammelUnit *unit)
{
  g_return_val_if_fail (unit != NULL, TRAMMEL_DIMENSION_NUMBER);

  return unit->dimension;
}

double
trammel_unit_factor (const TrammelUnit *unit)
{
  g_return_val_if_fail (unit != NULL, 1.0);

  return trammel_exact_to_double ((TrammelExact){ unit->num, unit->den, unit->pi });
}

const char *
trammel_dimension_wanted (TrammelDimension dimension)
{
  static const char *const wanted[] = {
    [TRAMMEL_DIMENSION_NUMBER] = N_ ("a number, or a percentage with %"),
    [TRAMMEL_DIMENSION_LENGTH] = N_ ("a length in mm, cm, m, µm, in, ft, mil or thou"),
    [TRAMMEL_DIMENSION_PITCH] = N_ ("a pitch in mm, in or another unit of length, or in tpi (threads per inch)"),
    [TRAMMEL_DIMENSION_MODULE] = N_ ("a module in mm, or a diametral pitch in DP (teeth per inch of diameter)"),
    [TRAMMEL_DIMENSION_ANGLE] = N_ ("an angle in deg, arcmin, arcsec, rad, mrad or turn"),
    [TRAMMEL_DIMENSION_MASS] = N_ ("a mass in kg, g, lb or oz"),
    [TRAMMEL_DIMENSION_FORCE] = N_ ("a force in N, mN, kN, kgf, gf, lbf or ozf"),
    [TRAMMEL_DIMENSION_TORQUE] = N_ ("a torque in N·m, N·cm, N·mm, mN·m, kgf·cm, ozf·in, lbf·in or lbf·ft"),
    [TRAMMEL_DIMENSION_INERTIA] = N_ ("a moment of inertia in kg·m², kg·cm² or g·cm²"),
    [TRAMMEL_DIMENSION_SPEED] = N_ ("a speed in mm/s, mm/min, cm/s, m/s, m/min, in/s or in/min"),
    [TRAMMEL_DIMENSION_ROTATION] = N_ ("a speed of rotation in rpm, rev/s, deg/s or rad/s"),
    [TRAMMEL_DIMENSION_TIME] = N_ ("a time in s, ms, min or h"),
    [TRAMMEL_DIMENSION_RATE] = N_ ("a rate in /s, Hz, kHz or MHz"),
    [TRAMMEL_DIMENSION_LASH] = N_ ("a length in mm, µm or in, or an angle in deg, arcmin or rad"),
    [TRAMMEL_DIMENSION_ACCELERATION] = N_ ("an acceleration in mm/s², m/s² or in/s²"),
    [TRAMMEL_DIMENSION_ANGULAR_ACCELERATION] = N_ ("an angular acceleration in deg/s², rad/s² or rev/s²"),
    [TRAMMEL_DIMENSION_DENSITY] = N_ ("a density in kg/m³, g/cm³ or lb/in³"),
    [TRAMMEL_DIMENSION_STRESS] = N_ ("a stress or modulus in N/mm², MPa, GPa, psi or ksi"),
  };

  g_return_val_if_fail (dimension < G_N_ELEMENTS (wanted), "");
  return _ (wanted[dimension]);
}
