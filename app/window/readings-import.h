/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/window.h"

G_BEGIN_DECLS

/* Readings from a CSV file, added after those that the machine has; one step to undo. The file is read in a thread. */
void trammel_readings_import (TrammelWindow *window, GFile *file);
/* Asks for the file first. */
void trammel_readings_import_choose (TrammelWindow *window);

G_END_DECLS
