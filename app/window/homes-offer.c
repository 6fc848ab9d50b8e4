/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/homes-offer.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/rewrite.h"

#define FEWEST 3

struct _TrammelHomesOffer
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelReadings *readings; /* that the offer is for; NULL: none is made */
  gsize first, n;

  GtkWidget *text;
  GtkWidget *buttons;
};

G_DEFINE_FINAL_TYPE (TrammelHomesOffer, trammel_homes_offer, GTK_TYPE_WIDGET)

static guint made_signal;

static void
withdraw (TrammelHomesOffer *self)
{
  g_clear_pointer (&self->readings, trammel_readings_unref);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
make_homes (TrammelHomesOffer *self, char letter)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const char text[] = { letter, '\0' };
  g_autoptr (GArray) rows = trammel_reading_array_new (self->n);

  for (gsize i = 0; i < self->n; i++)
    {
      TrammelReading row;
      trammel_reading_copy (trammel_readings_get (self->readings, self->first + i), &row);
      row.kind = TRAMMEL_READING_HOME;
      row.has_along = trammel_direction_parse (text, &row.along, NULL);
      g_array_append_val (rows, row);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_splice (
      self->readings, self->first, self->n, (const TrammelReading *)(gconstpointer)rows->data, self->n);
  trammel_session_edit (self->session, trammel_machine_with_readings (machine, readings), _ ("make them homes"), NULL);
  g_signal_emit (self, made_signal, 0);
}

static void
pressed (GtkButton *button, TrammelHomesOffer *self)
{
  const char *letter = g_object_get_data (G_OBJECT (button), "letter");

  if (self->readings)
    make_homes (self, *letter);
}

static void
offer_axes (TrammelHomesOffer *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->buttons)))
    gtk_box_remove (GTK_BOX (self->buttons), child);
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      const char letter[] = { trammel_axis_letter (trammel_machine_axis (machine, i)), '\0' };
      g_autofree char *label = g_strdup_printf (_ ("Homes of %s"), letter);
      GtkWidget *button = gtk_button_new_with_label (label);
      g_object_set_data_full (G_OBJECT (button), "letter", g_strdup (letter), g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (pressed), self);
      gtk_box_append (GTK_BOX (self->buttons), button);
    }
}

static gboolean
says_nothing (const TrammelReading *reading)
{
  return !reading->has_along && isnan (reading->nominal) && !isnan (reading->measured);
}

void
trammel_homes_offer_show (TrammelHomesOffer *self, TrammelSession *session, gsize first, gsize n)
{
  g_return_if_fail (TRAMMEL_IS_HOMES_OFFER (self) && TRAMMEL_IS_SESSION (session));

  const TrammelReadings *readings = trammel_machine_readings (trammel_session_machine (session));
  g_return_if_fail (first + n <= trammel_readings_length (readings));

  g_set_object (&self->session, session);
  withdraw (self);
  if (n < FEWEST)
    return;
  for (gsize i = 0; i < n; i++)
    if (!says_nothing (trammel_readings_get (readings, first + i)))
      return;
  self->readings = trammel_readings_ref (readings);
  self->first = first;
  self->n = n;
  g_autofree char *text
      = g_strdup_printf (ngettext ("%d value, but not yet what was measured: choose kind and along. Or is it where the "
                                   "switch of an axis fired?",
                                   "%d values, but not yet what was measured: choose kind and along. Or are they where "
                                   "the switch of an axis fired, again and again?",
                                   n),
                         (int)n);
  trammel_rewrite_label (GTK_LABEL (self->text), text);
  offer_axes (self);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

void
trammel_homes_offer_update (TrammelHomesOffer *self)
{
  g_return_if_fail (TRAMMEL_IS_HOMES_OFFER (self));

  if (self->readings && trammel_machine_readings (trammel_session_machine (self->session)) != self->readings)
    withdraw (self);
}

static void
trammel_homes_offer_dispose (GObject *object)
{
  TrammelHomesOffer *self = TRAMMEL_HOMES_OFFER (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_clear_pointer (&self->readings, trammel_readings_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (trammel_homes_offer_parent_class)->dispose (object);
}

static void
trammel_homes_offer_class_init (TrammelHomesOfferClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_homes_offer_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "homesoffer");
  made_signal = g_signal_new ("made", TRAMMEL_TYPE_HOMES_OFFER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_homes_offer_init (TrammelHomesOffer *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  self->text = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->text), 0);
  gtk_label_set_wrap (GTK_LABEL (self->text), TRUE);
  gtk_widget_insert_before (self->text, GTK_WIDGET (self), NULL);
  self->buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_insert_before (self->buttons, GTK_WIDGET (self), NULL);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
