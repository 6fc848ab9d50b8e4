/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* The unit in which an unknown is shown to people and typed by them. */
typedef struct
{
  double factor;      /* of the core's unit (mm, rad, a fraction) in one of this */
  const char *symbol; /* for people, with the space that goes before it: " mm", "°", " %" */
  const char *typed;  /* as trammel_stated_parse_amount() reads it; "" where the core's unit is meant */
} TrammelParameterUnit;

TrammelParameterUnit trammel_parameter_unit (const TrammelMachine *machine, const char *name);

/* "0.14 mm": an amount in that unit, in the locale. (transfer full) */
char *trammel_parameter_amount_text (const TrammelMachine *machine, const char *name, double amount);
/* "0.140 ± 0.021 mm". (transfer full) */
char *trammel_parameter_interval_text (const TrammelMachine *machine, const TrammelParameter *parameter);

/* Value and standard uncertainty with all the digits one could want to compare: "1.00211681802 times what is commanded,
 * u 0.0004297968". (transfer full) */
char *trammel_parameter_full_text (const TrammelMachine *machine, const TrammelParameter *parameter);

/* What a person typed, a bare number meaning the unit shown; else as trammel_stated_parse_amount(). */
gboolean trammel_parameter_parse_amount (const TrammelMachine *machine, const char *name, const char *text, double *out,
                                         GError **error);

G_END_DECLS
