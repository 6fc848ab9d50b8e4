/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"

G_BEGIN_DECLS

/* Inside of core/base: a row of the table of units. */
struct _TrammelUnit
{
  const char *symbol; /* as written to files */
  /* Spellings read, separated by "|", in the plain form that trammel_unit_find() makes of a text: no spaces, dots or
   * carets, µ as u, ² as 2, ° as deg, primes as ' and ". */
  const char *spellings;
  TrammelDimension dimension;
  gint64 num, den; /* factor num/den · π^pi to the base unit */
  int pi;
  gboolean reciprocal; /* the base value is factor/number: tpi, DP */
  gboolean strict;     /* capitals matter: mN is not MN */
};

/* What can be written in @dimension, for a message: "a length in mm, cm, …", translated. */
const char *trammel_dimension_wanted (TrammelDimension dimension);

G_END_DECLS
