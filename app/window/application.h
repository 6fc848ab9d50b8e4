/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TRAMMEL_APPLICATION_ID "org.trammel_bench.Trammel"

#define TRAMMEL_TYPE_APPLICATION (trammel_application_get_type ())
G_DECLARE_FINAL_TYPE (TrammelApplication, trammel_application, TRAMMEL, APPLICATION, GtkApplication)

TrammelApplication *trammel_application_new (void);

G_END_DECLS
