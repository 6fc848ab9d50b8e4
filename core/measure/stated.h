/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TrammelParameter:
 *
 * An unknown of the adjustment, named `scale.X`, `skew.XY`, `shrink`, `bead`, `foot`, `lash.X`, `datum.X`,
 * `datum.X.SET` or `instrument.NAME`. Scale, shrink and instrument are fractions; bead, foot, lash and datum mm
 * (degrees on a rotary axis); skew rad.
 */
typedef enum
{
  TRAMMEL_PARAMETER_SCALE,
  TRAMMEL_PARAMETER_SKEW,
  TRAMMEL_PARAMETER_SHRINK,
  TRAMMEL_PARAMETER_BEAD,
  TRAMMEL_PARAMETER_FOOT,
  TRAMMEL_PARAMETER_LASH,
  TRAMMEL_PARAMETER_DATUM,
  TRAMMEL_PARAMETER_INSTRUMENT, /* error of an instrument's scale; stated as 0 ± its scale_u */
} TrammelParameterKind;

/* Which parameter a name names: axes[] gets up to two letters ('\0' where none), @set (nullable) points into @name at
 * the name of the set or instrument. TRAMMEL_ERROR_PARSE. */
gboolean trammel_parameter_parse (const char *name, TrammelParameterKind *kind, char axes[2], const char **set,
                                  GError **error);
/* What it is called in words, translated: "skew between X and Y". (transfer full) */
char *trammel_parameter_to_words (const char *name);

/**
 * TrammelStated:
 * @name: of a parameter other than scale, datum and instrument; GRefString
 * @value: what the user believes, in the parameter's unit
 * @u: its standard uncertainty; 0 fixes the value
 *
 * A stated value enters the adjustment as one more observation.
 */
typedef struct
{
  GRefString *name;
  double value;
  double u;
} TrammelStated;

/* The value and u in force when nothing is stated: shrink 0.002 ± 0.003, bead 0 ± 0.2 mm, foot 0 ± 0.2 mm,
 * skew 0 ± 1° (in rad), lash 0 ± 1 mm. Common practice, no source. FALSE for scale, datum and instrument. */
gboolean trammel_stated_default (TrammelParameterKind kind, double *value, double *u);

/* `NAME=VALUE±U`, `NAME=VALUE+-U`, `NAME=VALUE` (fixed): in mm, rad or as a fraction; units may be written (`1 deg`,
 * `0.1 mm`, `0.3 %`). @out->name is a new GRefString. TRAMMEL_ERROR_PARSE, _RANGE (u < 0, scale or datum). */
gboolean trammel_stated_parse (const char *text, TrammelStated *out, GError **error);

/* VALUE and U texts as above, for an editor. @text may have the unit. */
gboolean trammel_stated_parse_amount (const char *name, const char *text, double *out, GError **error);

G_END_DECLS
