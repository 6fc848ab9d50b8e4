/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/handover-page.h"

#include "window/beside.h"
#include "window/export-view.h"
#include "window/log-view.h"

struct _TrammelHandoverPage
{
  GtkWidget parent_instance;

  GtkWidget *root;
  TrammelExportView *exports;
  TrammelLogView *log;
};

G_DEFINE_FINAL_TYPE (TrammelHandoverPage, trammel_handover_page, GTK_TYPE_WIDGET)

GtkWidget *
trammel_handover_page_new (TrammelSession *session)
{
  TrammelHandoverPage *self = g_object_new (TRAMMEL_TYPE_HANDOVER_PAGE, NULL);
  trammel_export_view_set_session (self->exports, session);
  trammel_log_view_set_session (self->log, session);
  return GTK_WIDGET (self);
}

static void
trammel_handover_page_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_HANDOVER_PAGE (object)->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_handover_page_parent_class)->dispose (object);
}

static void
trammel_handover_page_class_init (TrammelHandoverPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_handover_page_dispose;
  g_type_ensure (TRAMMEL_TYPE_BESIDE);
  g_type_ensure (TRAMMEL_TYPE_EXPORT_VIEW);
  g_type_ensure (TRAMMEL_TYPE_LOG_VIEW);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/handover-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, exports);
  gtk_widget_class_bind_template_child (widget_class, TrammelHandoverPage, log);
}

static void
trammel_handover_page_init (TrammelHandoverPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
