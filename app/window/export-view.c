/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/export-view.h"

#include <glib/gi18n.h>
#include <string.h>

#include "machine/export.h"
#include "machine/store.h"
#include "window/file-chooser.h"

struct _TrammelExportView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  const TrammelExportForm *form;

  GtkWidget *root;
  GtkBox *forms;
  GtkWidget *copy;
  GtkWidget *save;
  GtkLabel *trouble;
  GtkWidget *not_adopted;
  GtkTextView *text;
};

G_DEFINE_FINAL_TYPE (TrammelExportView, trammel_export_view, GTK_TYPE_WIDGET)

static char *
export_text (TrammelExportView *self, GError **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *time = g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");
  return trammel_export_text (trammel_session_machine (self->session), self->form, time, error);
}

/* Some axis has a correction that its values in force do not have. */
static gboolean
correction_waits (TrammelExportView *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  for (gsize i = 0; adjustment && i < trammel_machine_n_axes (machine); i++)
    {
      const TrammelAxisScale *scale
          = trammel_adjustment_axis (adjustment, trammel_axis_letter (trammel_machine_axis (machine, i)));
      if (scale && scale->significant)
        return TRUE;
    }
  return FALSE;
}

static void
update (TrammelExportView *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = export_text (self, &error);
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->text), text ? text : "", -1);
  gtk_label_set_text (self->trouble, error ? error->message : "");
  gtk_widget_set_visible (GTK_WIDGET (self->trouble), error != NULL);
  gtk_widget_set_sensitive (self->copy, text != NULL);
  gtk_widget_set_sensitive (self->save, text != NULL);
  gtk_widget_set_visible (self->not_adopted, correction_waits (self));
}

static void
copy_clicked (TrammelExportView *self)
{
  g_autofree char *text = export_text (self, NULL);
  if (!text)
    return;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", _ ("Copied."));
}

static void
file_chosen (GFile *file, gpointer data)
{
  TrammelExportView *self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;
  if (!path)
    return;
  g_autofree char *text = export_text (self, &error);
  if (!text || !trammel_store_write_text (path, text, strlen (text), &error))
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  g_autofree char *said = g_strdup_printf (_ ("Written to %s."), path);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", said);
}

static void
save_clicked (TrammelExportView *self)
{
  g_autofree char *name = trammel_export_file_name (trammel_session_machine (self->session), self->form);
  trammel_file_chooser_save (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), _ ("Save what the controller gets"),
                             TRAMMEL_FILES_ANY, name, trammel_session_file (self->session), file_chosen, self);
}

static void
form_toggled (GtkToggleButton *button, TrammelExportView *self)
{
  if (!gtk_toggle_button_get_active (button))
    return;
  self->form = g_object_get_data (G_OBJECT (button), "form");
  update (self);
}

static void
add_forms (TrammelExportView *self)
{
  gsize n;
  GtkToggleButton *group = NULL;
  const TrammelExportForm *forms = trammel_export_forms (&n);
  for (gsize i = 0; i < n; i++)
    {
      GtkWidget *button = gtk_toggle_button_new_with_label (_ (forms[i].label));
      g_object_set_data (G_OBJECT (button), "form", (gpointer)&forms[i]);
      gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), group);
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), i == 0);
      g_signal_connect (button, "toggled", G_CALLBACK (form_toggled), self);
      gtk_box_append (self->forms, button);
      group = GTK_TOGGLE_BUTTON (button);
    }
  self->form = &forms[0];
}

void
trammel_export_view_set_session (TrammelExportView *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_EXPORT_VIEW (self) && !self->session);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "adjusted", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (update), NULL);
}

static void
trammel_export_view_dispose (GObject *object)
{
  TrammelExportView *self = TRAMMEL_EXPORT_VIEW (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_export_view_parent_class)->dispose (object);
}

static void
trammel_export_view_class_init (TrammelExportViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_export_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/export-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, forms);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, copy);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, save);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, not_adopted);
  gtk_widget_class_bind_template_child (widget_class, TrammelExportView, text);
  gtk_widget_class_bind_template_callback (widget_class, copy_clicked);
  gtk_widget_class_bind_template_callback (widget_class, save_clicked);
}

static void
trammel_export_view_init (TrammelExportView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_forms (self);
}
