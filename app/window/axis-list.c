/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-list.h"

#include <glib/gi18n.h>

#include "window/axis-card.h"

struct _TrammelAxisList
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GtkWidget *root;
  GtkListBox *list;
  GtkMenuButton *add;
};

G_DEFINE_FINAL_TYPE (TrammelAxisList, trammel_axis_list, GTK_TYPE_WIDGET)

static void
row_selected (GtkListBox *list, GtkListBoxRow *row, TrammelAxisList *self)
{
  if (row && self->session)
    trammel_session_select_axis (self->session, gtk_list_box_row_get_index (row));
}

/* A new card has its place after the next layout. */
static void
scroll_to_selected (GdkFrameClock *clock, TrammelAxisList *self)
{
  GtkWidget *row = GTK_WIDGET (gtk_list_box_get_selected_row (self->list));
  graphene_rect_t place;
  g_signal_handlers_disconnect_by_func (clock, scroll_to_selected, self);
  if (row && gtk_widget_compute_bounds (row, GTK_WIDGET (self->list), &place))
    gtk_adjustment_clamp_page (gtk_list_box_get_adjustment (self->list), place.origin.y,
                               place.origin.y + place.size.height);
}

static void
show_card (TrammelAxisList *self, GtkListBoxRow *row)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (self));
  gtk_list_box_select_row (self->list, row);
  if (!clock)
    return;
  g_signal_handlers_disconnect_by_func (clock, scroll_to_selected, self);
  g_signal_connect_object (clock, "after-paint", G_CALLBACK (scroll_to_selected), self, 0);
}

static void
show_selection (TrammelAxisList *self)
{
  int axis = trammel_session_selected_axis (self->session);
  GtkListBoxRow *row = axis < 0 ? NULL : gtk_list_box_get_row_at_index (self->list, axis);
  if (row && !gtk_list_box_row_is_selected (row))
    show_card (self, row);
}

/* Cards are kept and read anew: as many as there are axes. */
static void
update_cards (TrammelAxisList *self)
{
  int n = (int)trammel_machine_n_axes (trammel_session_machine (self->session));
  GtkListBoxRow *row;
  while ((row = gtk_list_box_get_row_at_index (self->list, n)))
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  for (int i = 0; i < n; i++)
    if ((row = gtk_list_box_get_row_at_index (self->list, i)))
      trammel_axis_card_update (TRAMMEL_AXIS_CARD (row));
    else
      gtk_list_box_append (self->list, trammel_axis_card_new (self->session, (gsize)i));
  show_selection (self);
}

void
trammel_axis_list_set_session (TrammelAxisList *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_AXIS_LIST (self) && !self->session);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (update_cards), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "adjusted", G_CALLBACK (update_cards), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "selection-changed", G_CALLBACK (show_selection), self, G_CONNECT_SWAPPED);
  update_cards (self);
}

static void
make_add_menu (GtkMenuButton *button, gpointer data)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  g_menu_append (menu, _ ("_Linear axis: moves along a line"), "win.add-axis::linear");
  g_menu_append (menu, _ ("_Rotary axis: turns"), "win.add-axis::rotary");
  g_menu_append (menu, _ ("_Feed axis: pushes filament, wire or paste"), "win.add-axis::feed");
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

/* Delete removes the axis: it can be undone. */
static gboolean
key_pressed (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, TrammelAxisList *self)
{
  if (key != GDK_KEY_Delete && key != GDK_KEY_KP_Delete)
    return GDK_EVENT_PROPAGATE;
  gtk_widget_activate_action (GTK_WIDGET (self), "win.remove-axis", NULL);
  return GDK_EVENT_STOP;
}

static void
trammel_axis_list_dispose (GObject *object)
{
  TrammelAxisList *self = TRAMMEL_AXIS_LIST (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_axis_list_parent_class)->dispose (object);
}

static void
trammel_axis_list_class_init (TrammelAxisListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_axis_list_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "axes");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/axis-list.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisList, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisList, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisList, add);
  gtk_widget_class_bind_template_callback (widget_class, row_selected);
}

static void
trammel_axis_list_init (TrammelAxisList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), keys);
  gtk_menu_button_set_create_popup_func (self->add, make_add_menu, NULL, NULL);
}
