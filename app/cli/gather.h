/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* The readings that --readings and --only ask for: the machine's, with @csv_path (nullable) those of that file too;
 * with @only those of the file alone. (transfer full) (nullable); errors name the file. */
TrammelReadings *cli_gather_readings (const TrammelMachine *machine, const char *csv_path, gboolean only,
                                      GError **error);

G_END_DECLS
