/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "drive/bench.h"
#include "window/session.h"

G_BEGIN_DECLS

/* A panel of bench-tabs.h about the selected axis: follows the session, but only while it is mapped, and hands its kind
 * what there is to show. */
#define TRAMMEL_TYPE_AXIS_PANEL (trammel_axis_panel_get_type ())
G_DECLARE_DERIVABLE_TYPE (TrammelAxisPanel, trammel_axis_panel, TRAMMEL, AXIS_PANEL, GtkWidget)

struct _TrammelAxisPanelClass
{
  GtkWidgetClass parent_class;

  /* @bench: NULL when the parts do not work together. Both live for the call. */
  void (*show) (TrammelAxisPanel *panel, const TrammelAxis *axis, const TrammelBench *bench);
  /* (nullable): another axis than before is about to be shown. */
  void (*leave) (TrammelAxisPanel *panel);
};

GtkWidget *trammel_axis_panel_new (GType type, TrammelSession *session);
TrammelSession *trammel_axis_panel_session (TrammelAxisPanel *panel); /* borrowed */

/* Of lengths: mm or in. */
const TrammelUnit *trammel_axis_panel_unit (TrammelAxisPanel *panel);

/* What stands in place of results when @bench is NULL; translated. */
const char *trammel_axis_panel_trouble (void);

G_END_DECLS
