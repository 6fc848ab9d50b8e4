/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-settings.h"

#include <glib/gi18n.h>

#define N_KINDS (TRAMMEL_AXIS_FEED + 1)

struct _TrammelAxisSettings
{
  GtkPopover parent_instance;

  TrammelSession *session;
  gsize axis;
  gboolean showing; /* the widgets are being filled, not edited */

  GtkEditable *letter;
  GtkDropDown *kind;
  GtkEditable *travel;
  GtkCheckButton *reverse;
  GtkLabel *trouble;
};

G_DEFINE_FINAL_TYPE (TrammelAxisSettings, trammel_axis_settings, GTK_TYPE_POPOVER)

static const TrammelAxis *
edited_axis (TrammelAxisSettings *self)
{
  const TrammelMachine *machine = self->session ? trammel_session_machine (self->session) : NULL;
  return machine && self->axis < trammel_machine_n_axes (machine) ? trammel_machine_axis (machine, self->axis) : NULL;
}

static void
show_trouble (TrammelAxisSettings *self, GtkEditable *where, const char *message)
{
  gtk_label_set_text (self->trouble, message ? message : "");
  gtk_widget_set_visible (GTK_WIDGET (self->trouble), message != NULL);
  gtk_widget_remove_css_class (GTK_WIDGET (self->letter), "error");
  gtk_widget_remove_css_class (GTK_WIDGET (self->travel), "error");
  if (message && where)
    gtk_widget_add_css_class (GTK_WIDGET (where), "error");
}

/* Takes @changed (NULL: @error tells why there is none). */
static void
put_axis (TrammelAxisSettings *self, TrammelAxis *changed, GtkEditable *where, const char *what, GError *error)
{
  g_autoptr (TrammelAxis) axis = changed;
  g_autoptr (GError) owned = error;
  TrammelMachine *machine = NULL;
  if (axis)
    machine = trammel_machine_with_axis (trammel_session_machine (self->session), self->axis, axis, &owned);
  show_trouble (self, where, owned ? owned->message : NULL);
  trammel_session_edit (self->session, machine, what, NULL);
}

static void
letter_changed (TrammelAxisSettings *self)
{
  const TrammelAxis *axis = edited_axis (self);
  char letter = g_ascii_toupper (gtk_editable_get_text (self->letter)[0]);
  if (self->showing || !axis || !letter)
    return;
  if (!g_ascii_isupper (letter))
    {
      show_trouble (self, self->letter, _ ("A letter from A to Z is wanted"));
      return;
    }
  put_axis (self, trammel_axis_with_letter (axis, letter), self->letter, _ ("change the letter of an axis"), NULL);
}

static void
kind_chosen (TrammelAxisSettings *self)
{
  const TrammelAxis *axis = edited_axis (self);
  if (self->showing || !axis)
    return;
  put_axis (self, trammel_axis_with_kind (axis, (TrammelAxisKind)gtk_drop_down_get_selected (self->kind)), NULL,
            _ ("change the kind of an axis"), NULL);
}

static void
travel_entered (TrammelAxisSettings *self)
{
  GError *error = NULL;
  const TrammelAxis *axis = edited_axis (self);
  if (self->showing || !axis)
    return;
  const TrammelUnit *assumed = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY
                                   ? NULL
                                   : trammel_machine_display_unit (trammel_session_machine (self->session));
  TrammelAxis *changed = trammel_axis_with_travel (axis, gtk_editable_get_text (self->travel), assumed, &error);
  put_axis (self, changed, self->travel, _ ("change the travel of an axis"), error);
}

static void
reverse_toggled (TrammelAxisSettings *self)
{
  const TrammelAxis *axis = edited_axis (self);
  if (self->showing || !axis)
    return;
  g_autoptr (TrammelTrain) train
      = trammel_train_with_reverse (trammel_axis_train (axis), gtk_check_button_get_active (self->reverse));
  put_axis (self, trammel_axis_with_train (axis, train), NULL, _ ("reverse a motor"), NULL);
}

static void
show_axis (TrammelAxisSettings *self)
{
  TrammelQuantity quantity;
  const TrammelAxis *axis = edited_axis (self);
  if (!axis)
    {
      gtk_popover_popdown (GTK_POPOVER (self));
      return;
    }

  const char letter[] = { trammel_axis_letter (axis), '\0' };
  g_autofree char *travel = trammel_axis_travel (axis, &quantity) ? trammel_quantity_to_text (quantity) : g_strdup ("");
  self->showing = TRUE;
  if (g_ascii_toupper (gtk_editable_get_text (self->letter)[0]) != letter[0])
    gtk_editable_set_text (self->letter, letter);
  gtk_editable_set_text (self->travel, travel);
  gtk_drop_down_set_selected (self->kind, trammel_axis_kind (axis));
  gtk_check_button_set_active (self->reverse, trammel_train_reverse (trammel_axis_train (axis)));
  self->showing = FALSE;
}

/* The axis may have moved: the settings stay with the one that is selected. */
static void
selection_changed (TrammelAxisSettings *self)
{
  int axis = trammel_session_selected_axis (self->session);
  if (axis < 0)
    return;
  self->axis = (gsize)axis;
  show_axis (self);
}

GtkWidget *
trammel_axis_settings_new (TrammelSession *session, gsize axis)
{
  TrammelAxisSettings *self = g_object_new (TRAMMEL_TYPE_AXIS_SETTINGS, NULL);
  self->session = g_object_ref (session);
  self->axis = axis;
  g_signal_connect_object (session, "changed", G_CALLBACK (show_axis), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "selection-changed", G_CALLBACK (selection_changed), self, G_CONNECT_SWAPPED);
  show_axis (self);
  return GTK_WIDGET (self);
}

static void
trammel_axis_settings_dispose (GObject *object)
{
  TrammelAxisSettings *self = TRAMMEL_AXIS_SETTINGS (object);
  self->showing = TRUE;
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_axis_settings_parent_class)->dispose (object);
}

static void
trammel_axis_settings_class_init (TrammelAxisSettingsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_axis_settings_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/axis-settings.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisSettings, letter);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisSettings, kind);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisSettings, travel);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisSettings, reverse);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisSettings, trouble);
  gtk_widget_class_bind_template_callback (widget_class, letter_changed);
  gtk_widget_class_bind_template_callback (widget_class, kind_chosen);
  gtk_widget_class_bind_template_callback (widget_class, travel_entered);
  gtk_widget_class_bind_template_callback (widget_class, reverse_toggled);
}

static void
trammel_axis_settings_init (TrammelAxisSettings *self)
{
  const char *kinds[N_KINDS + 1] = { NULL };
  for (int i = 0; i < N_KINDS; i++)
    kinds[i] = trammel_axis_kind_label ((TrammelAxisKind)i);

  self->showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  g_autoptr (GtkStringList) labels = gtk_string_list_new (kinds);
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (labels));
  self->showing = FALSE;

  /* What was typed counts, confirmed or not: leaving is as good as Return. */
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (travel_entered), self);
  gtk_widget_add_controller (GTK_WIDGET (self->travel), focus);
}
