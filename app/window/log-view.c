/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/log-view.h"

#include <glib/gi18n.h>

#include "window/log-words.h"

struct _TrammelLogView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GtkWidget *root;
  GtkWidget *empty;
  GtkBox *entries;
  TrammelMachine *shown; /* whose log is shown; NULL: none yet */
};

G_DEFINE_FINAL_TYPE (TrammelLogView, trammel_log_view, GTK_TYPE_WIDGET)

static GtkWidget *
label_of (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* What an entry rests on is made when it is looked at. */
static void
entry_opened (GtkExpander *expander, GParamSpec *pspec, TrammelLogView *self)
{
  if (!gtk_expander_get_expanded (expander) || gtk_expander_get_child (expander))
    return;
  const TrammelLogEntry *entry = g_object_get_data (G_OBJECT (expander), "entry");
  g_autofree char *details = trammel_log_words_details (trammel_session_machine (self->session), entry);
  GtkWidget *label = label_of (details, "numeric");
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_expander_set_child (expander, label);
}

static GtkWidget *
entry_card (TrammelLogView *self, const TrammelMachine *machine, const TrammelLogEntry *entry)
{
  g_autofree char *time = trammel_log_words_time (entry);
  g_autofree char *changes = trammel_log_words_changes (machine, entry);
  g_autofree char *readings = trammel_log_words_readings (entry);
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *expander = gtk_expander_new (readings);
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, readings, -1);
  gtk_widget_add_css_class (card, "card");
  gtk_box_append (GTK_BOX (card), label_of (time, "heading"));
  gtk_box_append (GTK_BOX (card), label_of (changes, "numeric"));
  gtk_box_append (GTK_BOX (card), expander);
  g_object_set_data_full (G_OBJECT (expander), "entry", trammel_log_entry_ref ((TrammelLogEntry *)entry),
                          (GDestroyNotify)trammel_log_entry_unref);
  g_signal_connect (expander, "notify::expanded", G_CALLBACK (entry_opened), self);
  return card;
}

static gboolean
same_log (const TrammelMachine *a, const TrammelMachine *b)
{
  gsize n = trammel_machine_n_log (a);
  return n == trammel_machine_n_log (b) && (n == 0 || trammel_machine_log (a, n - 1) == trammel_machine_log (b, n - 1))
         && trammel_machine_display_unit (a) == trammel_machine_display_unit (b);
}

static void
update (TrammelLogView *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  gboolean same = self->shown && same_log (self->shown, machine);
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;

  g_clear_pointer (&self->shown, trammel_machine_unref);
  self->shown = trammel_machine_ref (machine);
  if (same)
    return;

  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->entries))))
    gtk_box_remove (self->entries, child);
  for (gsize i = trammel_machine_n_log (machine); i-- > 0;)
    gtk_box_append (self->entries, entry_card (self, machine, trammel_machine_log (machine, i)));
  gtk_widget_set_visible (self->empty, trammel_machine_n_log (machine) == 0);
}

void
trammel_log_view_set_session (TrammelLogView *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_LOG_VIEW (self) && !self->session);
  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (update), NULL);
}

static void
trammel_log_view_dispose (GObject *object)
{
  TrammelLogView *self = TRAMMEL_LOG_VIEW (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->shown, trammel_machine_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_log_view_parent_class)->dispose (object);
}

static void
trammel_log_view_class_init (TrammelLogViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_log_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/log-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelLogView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelLogView, empty);
  gtk_widget_class_bind_template_child (widget_class, TrammelLogView, entries);
}

static void
trammel_log_view_init (TrammelLogView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
