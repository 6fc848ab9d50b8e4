/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/steps.h"

#include <glib/gi18n.h>

#include "window/rewrite.h"

struct _TrammelSteps
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (TrammelSteps, trammel_steps, GTK_TYPE_WIDGET)

static void
add_label (GtkWidget *box, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (box), label);
}

static void
add_step (TrammelSteps *self, const TrammelPage *page, guint number)
{
  g_autofree char *figure = g_strdup_printf ("%u", number);
  g_autofree char *tooltip = g_strdup_printf (_ ("%s (Alt+%u)"), _ (page->meaning), number);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  add_label (box, figure, "step-number");
  add_label (box, _ (page->title), "step-title");

  GtkWidget *step = gtk_toggle_button_new ();
  gtk_button_set_child (GTK_BUTTON (step), box);
  gtk_widget_add_css_class (step, "step");
  trammel_rewrite_tooltip (step, tooltip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (step), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (page->title), -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (step), "win.show-page");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (step), "s", page->name);

  if (number > 1)
    {
      GtkWidget *arrow = g_object_new (GTK_TYPE_IMAGE, "icon-name", "go-next-symbolic", "accessible-role",
                                       GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
      gtk_widget_add_css_class (arrow, "step-arrow");
      gtk_widget_set_parent (arrow, GTK_WIDGET (self));
    }
  gtk_widget_set_parent (step, GTK_WIDGET (self));
}

static void
trammel_steps_dispose (GObject *object)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))))
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (trammel_steps_parent_class)->dispose (object);
}

static void
trammel_steps_class_init (TrammelStepsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_steps_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "steps");
}

static void
trammel_steps_init (TrammelSteps *self)
{
  gsize n;
  const TrammelPage *pages = trammel_pages (&n);
  for (gsize i = 0; i < n; i++)
    add_step (self, &pages[i], (guint)i + 1);
}
