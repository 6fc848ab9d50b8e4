/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/pages.h"

G_BEGIN_DECLS

/* The pages as numbered steps of the job, one of them chosen. Each does win.show-page with its name. */
#define TRAMMEL_TYPE_STEPS (trammel_steps_get_type ())
G_DECLARE_FINAL_TYPE (TrammelSteps, trammel_steps, TRAMMEL, STEPS, GtkWidget)

G_END_DECLS
