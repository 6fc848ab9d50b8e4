/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-panel.h"

#include <glib/gi18n.h>

typedef struct
{
  TrammelSession *session;
  int shown_axis; /* −1: none */
  gboolean stale; /* something changed while nobody looked */
} TrammelAxisPanelPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (TrammelAxisPanel, trammel_axis_panel, GTK_TYPE_WIDGET)

static TrammelAxisPanelPrivate *
own (TrammelAxisPanel *self)
{
  return trammel_axis_panel_get_instance_private (self);
}

TrammelSession *
trammel_axis_panel_session (TrammelAxisPanel *self)
{
  g_return_val_if_fail (TRAMMEL_IS_AXIS_PANEL (self), NULL);
  return own (self)->session;
}

const TrammelUnit *
trammel_axis_panel_unit (TrammelAxisPanel *self)
{
  return trammel_machine_display_unit (trammel_session_machine (trammel_axis_panel_session (self)));
}

const char *
trammel_axis_panel_trouble (void)
{
  return _ ("The parts do not work together yet. What is wrong stands at the part, under Parts.");
}

static void
leave_axis (TrammelAxisPanel *self, int next)
{
  TrammelAxisPanelClass *klass = TRAMMEL_AXIS_PANEL_GET_CLASS (self);
  if (next != own (self)->shown_axis && klass->leave)
    klass->leave (self);
  own (self)->shown_axis = next;
}

static void
show_axis (TrammelAxisPanel *self)
{
  TrammelAxisPanelPrivate *panel = own (self);
  const TrammelMachine *machine = trammel_session_machine (panel->session);
  const int i = trammel_session_selected_axis (panel->session);

  panel->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (panel->stale || i < 0)
    return;
  const TrammelAxis *axis = trammel_machine_axis (machine, (gsize)i);
  g_autoptr (TrammelBench) bench = NULL;
  if (trammel_session_facts (panel->session, (gsize)i, NULL))
    bench = trammel_bench_new (trammel_axis_train (axis), trammel_axis_load (axis), NULL);
  leave_axis (self, i);
  TRAMMEL_AXIS_PANEL_GET_CLASS (self)->show (self, axis, bench);
}

static void
trammel_axis_panel_map (GtkWidget *widget)
{
  TrammelAxisPanel *self = TRAMMEL_AXIS_PANEL (widget);

  GTK_WIDGET_CLASS (trammel_axis_panel_parent_class)->map (widget);
  if (own (self)->stale)
    show_axis (self);
}

static void
trammel_axis_panel_dispose (GObject *object)
{
  TrammelAxisPanelPrivate *panel = own (TRAMMEL_AXIS_PANEL (object));
  if (panel->session)
    g_signal_handlers_disconnect_by_data (panel->session, object);
  g_clear_object (&panel->session);
  G_OBJECT_CLASS (trammel_axis_panel_parent_class)->dispose (object);
}

static void
trammel_axis_panel_class_init (TrammelAxisPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_axis_panel_dispose;
  widget_class->map = trammel_axis_panel_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
trammel_axis_panel_init (TrammelAxisPanel *self)
{
  own (self)->shown_axis = -1;
}

GtkWidget *
trammel_axis_panel_new (GType type, TrammelSession *session)
{
  g_return_val_if_fail (g_type_is_a (type, TRAMMEL_TYPE_AXIS_PANEL) && TRAMMEL_IS_SESSION (session), NULL);

  TrammelAxisPanel *self = g_object_new (type, NULL);
  own (self)->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_axis), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (show_axis), self);
  g_signal_connect_swapped (session, "adjusted", G_CALLBACK (show_axis), self);
  own (self)->stale = TRUE;
  return GTK_WIDGET (self);
}
