/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

/* How a reading of that kind and direction is taken: where the jaws go, what to watch. Translated; (transfer full). */
char *trammel_reading_hint (const TrammelReading *reading);

G_END_DECLS
