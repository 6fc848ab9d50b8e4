/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* Arrays are never changed once a machine holds them, so that machines share them; an edit puts a new one in. */
struct _TrammelMachine
{
  gatomicrefcount references;
  char *name;
  char *note;
  const TrammelUnit *display_unit;
  GPtrArray *axes;     /* of TrammelAxis */
  GArray *instruments; /* of TrammelInstrument */
  TrammelThermal part;
  char *part_extra;
  GArray *stated; /* of TrammelStated */
  /* Unknown members of an instrument or a stated value: its name → text of a JSON object */
  GHashTable *instrument_extra;
  GHashTable *stated_extra;
  TrammelReadings *readings;
  TrammelRecord *piece;
  TrammelRecord *plate;
  GPtrArray *log; /* of TrammelLogEntry */
  char *extra;
};

/* A machine of its own that shares everything with @machine. */
TrammelMachine *trammel_machine_copy (const TrammelMachine *machine);

GPtrArray *trammel_machine_axes_new (void);
GArray *trammel_machine_instruments_new (void);
GArray *trammel_machine_stated_new (void);
GPtrArray *trammel_machine_log_new (void);
GHashTable *trammel_machine_extras_new (void);

/* The unknown members of one instrument or stated value; NULL when there are none. */
const char *trammel_machine_instrument_extra (const TrammelMachine *machine, const char *name);
const char *trammel_machine_stated_extra (const TrammelMachine *machine, const char *name);

/* What an adjustment is made from; it borrows @letters, the machine, the options, and what is returned: the stated
 * values, (transfer full). @options may be NULL. */
GArray *trammel_machine_adjustment_input (const TrammelMachine *machine, const TrammelAdjustOptions *options,
                                          char letters[TRAMMEL_MAX_AXES + 1], TrammelAdjustmentInput *input);

/* @corrected with the change of counts per unit, which is already in it, in the log: the readings of the fit go into
 * the entry and leave the machine, as trammel_machine_adopt() says; what was found besides (nominal, lash, home) is
 * filled in. @n_changes is at most TRAMMEL_MAX_AXES; @note may be NULL. (transfer full) (nullable). Errors:
 * TRAMMEL_ERROR_PARSE for @time. */
TrammelMachine *trammel_machine_log_correction (const TrammelMachine *before, const TrammelMachine *corrected,
                                                const TrammelLogChange *changes, gsize n_changes,
                                                const TrammelAdjustment *adjustment,
                                                const TrammelReadings *fitted_readings, const char *time,
                                                const char *note, GError **error);

G_END_DECLS
