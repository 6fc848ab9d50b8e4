/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/handover-page.h"

#include "window/columns.h"
#include "window/drift-view.h"
#include "window/export-view.h"
#include "window/log-view.h"

struct _TrammelHandoverPage
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GtkWidget *root;
  TrammelExportView *exports;
  TrammelDriftView *drift;
  TrammelLogView *log;
};

G_DEFINE_FINAL_TYPE (TrammelHandoverPage, trammel_handover_page, GTK_TYPE_WIDGET)

static void
update (TrammelHandoverPage *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    trammel_drift_view_show (self->drift, self->session);
}

static void
trammel_handover_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (trammel_handover_page_parent_class)->map (widget);
  update (TRAMMEL_HANDOVER_PAGE (widget));
}

GtkWidget *
trammel_handover_page_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelHandoverPage *self = g_object_new (TRAMMEL_TYPE_HANDOVER_PAGE, NULL);
  self->session = g_object_ref (session);
  trammel_export_view_set_session (self->exports, session);
  trammel_log_view_set_session (self->log, session);
  g_signal_connect_object (session, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "selection-changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

static void
trammel_handover_page_dispose (GObject *object)
{
  TrammelHandoverPage *self = TRAMMEL_HANDOVER_PAGE (object);

  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_handover_page_parent_class)->dispose (object);
}

static void
trammel_handover_page_class_init (TrammelHandoverPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_handover_page_dispose;
  widget_class->map = trammel_handover_page_map;
  g_type_ensure (TRAMMEL_TYPE_COLUMNS);
  g_type_ensure (TRAMMEL_TYPE_DRIFT_VIEW);
  g_type_ensure (TRAMMEL_TYPE_EXPORT_VIEW);
  g_type_ensure (TRAMMEL_TYPE_LOG_VIEW);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/handover-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, exports);
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, drift);
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, log);
}

static void
trammel_handover_page_init (TrammelHandoverPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
