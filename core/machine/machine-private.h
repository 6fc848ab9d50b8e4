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
  GArray *stated;      /* of TrammelStated */
  /* Unknown members of an instrument or a stated value: its name → text of a JSON object */
  GHashTable *instrument_extra;
  GHashTable *stated_extra;
  TrammelReadings *readings;
  TrammelRecord *piece;
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

G_END_DECLS
