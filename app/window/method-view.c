/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/method-view.h"

struct _TrammelMethodView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  gboolean showing; /* the buttons are being set from the session */

  GtkWidget *root;
  GtkCheckButton *stated;
  GtkCheckButton *estimated;
  GtkCheckButton *robust;
};

G_DEFINE_FINAL_TYPE (TrammelMethodView, trammel_method_view, GTK_TYPE_WIDGET)

static void
chosen (TrammelMethodView *self)
{
  if (self->showing || !self->session)
    return;
  trammel_session_set_method (
      self->session, gtk_check_button_get_active (self->stated) ? TRAMMEL_SCATTER_STATED : TRAMMEL_SCATTER_ESTIMATED,
      gtk_check_button_get_active (self->robust));
}

void
trammel_method_view_show (TrammelMethodView *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_METHOD_VIEW (self) && TRAMMEL_IS_SESSION (session));

  g_set_object (&self->session, session);
  self->showing = TRUE;
  gtk_check_button_set_active (
      trammel_session_scatter (session) == TRAMMEL_SCATTER_STATED ? self->stated : self->estimated, TRUE);
  gtk_check_button_set_active (self->robust, trammel_session_robust (session));
  self->showing = FALSE;
}

static void
trammel_method_view_dispose (GObject *object)
{
  TrammelMethodView *self = TRAMMEL_METHOD_VIEW (object);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_method_view_parent_class)->dispose (object);
}

static void
trammel_method_view_class_init (TrammelMethodViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_method_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/method-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelMethodView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelMethodView, stated);
  gtk_widget_class_bind_template_child (widget_class, TrammelMethodView, estimated);
  gtk_widget_class_bind_template_child (widget_class, TrammelMethodView, robust);
  gtk_widget_class_bind_template_callback (widget_class, chosen);
}

static void
trammel_method_view_init (TrammelMethodView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
