/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/axis.h"
#include "machine/log.h"
#include "machine/piece.h"
#include "machine/plate.h"
#include "measure/adjustment.h"

G_BEGIN_DECLS

#define TRAMMEL_MACHINE_VERSION 1
#define TRAMMEL_MAX_AXES 26
#define TRAMMEL_MAX_INSTRUMENTS 1000

/**
 * TrammelMachine:
 *
 * The document: axes, instruments, stated values, readings, piece, plate, log. Immutable and reference-counted; an edit
 * makes a new one that shares what did not change, so undo is a list of values and a worker thread needs no lock.
 */
typedef struct _TrammelMachine TrammelMachine;

#define TRAMMEL_TYPE_MACHINE (trammel_machine_get_type ())
GType trammel_machine_get_type (void); /* boxed */

TrammelMachine *trammel_machine_new (void); /* empty, unnamed, display unit mm, piece: the square's initial values */
TrammelMachine *trammel_machine_ref (const TrammelMachine *machine);
void trammel_machine_unref (TrammelMachine *machine);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelMachine, trammel_machine_unref)

/* Borrowed. */
const char *trammel_machine_name (const TrammelMachine *machine);
const char *trammel_machine_note (const TrammelMachine *machine);
const TrammelUnit *trammel_machine_display_unit (const TrammelMachine *machine); /* mm or in */
gsize trammel_machine_n_axes (const TrammelMachine *machine);
const TrammelAxis *trammel_machine_axis (const TrammelMachine *machine, gsize i);
int trammel_machine_axis_index (const TrammelMachine *machine, char letter); /* −1 */
const TrammelReadings *trammel_machine_readings (const TrammelMachine *machine);
const TrammelInstrument *trammel_machine_instruments (const TrammelMachine *machine, gsize *n);
/* How warm printed parts are when they are measured, and how they grow. */
const TrammelThermal *trammel_machine_part (const TrammelMachine *machine);
const TrammelStated *trammel_machine_stated (const TrammelMachine *machine, gsize *n); /* explicit ones only */
gsize trammel_machine_n_log (const TrammelMachine *machine);
const TrammelLogEntry *trammel_machine_log (const TrammelMachine *machine, gsize i);
const TrammelRecord *trammel_machine_piece (const TrammelMachine *machine);
const TrammelRecord *trammel_machine_plate (const TrammelMachine *machine);
const char *trammel_machine_extra (const TrammelMachine *machine);

/* Edits: each returns a new machine, (transfer full). Arguments are borrowed. */
TrammelMachine *trammel_machine_with_name (const TrammelMachine *machine, const char *name);
TrammelMachine *trammel_machine_with_note (const TrammelMachine *machine, const char *note);
TrammelMachine *trammel_machine_with_display_unit (const TrammelMachine *machine, const TrammelUnit *unit);
/* A letter that another axis has: TRAMMEL_ERROR_RANGE. */
TrammelMachine *trammel_machine_with_axis (const TrammelMachine *machine, gsize i, const TrammelAxis *axis,
                                           GError **error);
TrammelMachine *trammel_machine_with_axis_inserted (const TrammelMachine *machine, gsize i, const TrammelAxis *axis,
                                                    GError **error);
TrammelMachine *trammel_machine_without_axis (const TrammelMachine *machine, gsize i);
TrammelMachine *trammel_machine_with_axis_moved (const TrammelMachine *machine, gsize from, gsize to);
/* Shorthands for the train of an axis. */
TrammelMachine *trammel_machine_with_train (const TrammelMachine *machine, gsize axis, const TrammelTrain *train);
TrammelMachine *trammel_machine_with_stage (const TrammelMachine *machine, gsize axis, gsize i,
                                            const TrammelRecord *stage);
TrammelMachine *trammel_machine_with_readings (const TrammelMachine *machine, const TrammelReadings *readings);
/* Replaces the whole list; names are unique (later wins). One without a name, whose u is not finite and above 0, or
 * whose details are not usable, is left out, and so is what goes beyond TRAMMEL_MAX_INSTRUMENTS. */
TrammelMachine *trammel_machine_with_instruments (const TrammelMachine *machine, const TrammelInstrument *instruments,
                                                  gsize n);
/* @part is usable (trammel_thermal_is_usable()). */
TrammelMachine *trammel_machine_with_part (const TrammelMachine *machine, const TrammelThermal *part);
/* Sets or replaces one stated value (finite, u ≥ 0; of a parameter other than scale and datum); NULL @stated with
 * @name: back to the default. */
TrammelMachine *trammel_machine_with_stated (const TrammelMachine *machine, const char *name,
                                             const TrammelStated *stated);
TrammelMachine *trammel_machine_with_piece (const TrammelMachine *machine, const TrammelRecord *piece);
TrammelMachine *trammel_machine_with_plate (const TrammelMachine *machine, const TrammelRecord *plate);
TrammelMachine *trammel_machine_with_log_entry (const TrammelMachine *machine, const TrammelLogEntry *entry);
TrammelMachine *trammel_machine_with_extra (const TrammelMachine *machine, const char *extra);

gboolean trammel_machine_equal (const TrammelMachine *a, const TrammelMachine *b);

/* How an adjustment of this machine is to be made. */
typedef struct
{
  TrammelScatter scatter;
  gboolean robust;
  const TrammelReadings *readings; /* NULL: the machine's own */
  const TrammelStated *stated;     /* in addition to the machine's, and stronger */
  gsize n_stated;
} TrammelAdjustOptions;

/* The adjustment of the machine's readings; @options may be NULL. (transfer full). Errors as
 * trammel_adjustment_new(). */
TrammelAdjustment *trammel_machine_adjust (const TrammelMachine *machine, const TrammelAdjustOptions *options,
                                           GCancellable *cancellable, GError **error);

/* Corrected counts per unit of one axis: in force / (1+e), its u and 95 % interval (low < high). */
typedef struct
{
  double in_force;
  double corrected, u, low, high;
} TrammelCorrection;

/* FALSE with @error when the axis has no scale in the fit (TRAMMEL_ERROR_DATA) or no train that works. */
gboolean trammel_machine_correction (const TrammelMachine *machine, const TrammelAdjustment *adjustment, char letter,
                                     TrammelCorrection *out, GError **error);

/**
 * trammel_machine_adopt:
 * @adjustment: made from @machine (and perhaps further readings)
 * @fitted_readings: the readings that @adjustment was made from
 * @letters: (nullable): only these axes ("XY"); NULL: every axis that has a scale
 * @time: ISO 8601 UTC
 *
 * Puts the corrected values in force and adds a log entry that holds the readings of the fit (`readings`). The
 * machine's measured rows that touch a corrected axis were taken with its old value, so they would be wrong evidence
 * afterwards: they leave the machine, and those that the fit did not use go into the entry's `set_aside`, as home
 * readings of the axis do, whose scatter is logged, and so is the lash where the readings tell it. Rows that still wait
 * to be measured, and rows along axes whose value stays, stay.
 *
 * Returns: (transfer full) (nullable).
 */
TrammelMachine *trammel_machine_adopt (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                       const TrammelReadings *fitted_readings, const char *letters, const char *time,
                                       GError **error);

G_END_DECLS
