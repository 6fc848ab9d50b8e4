/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-card.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "draw/sentences.h"
#include "window/axis-badge.h"
#include "window/axis-settings.h"
#include "window/rewrite.h"

struct _TrammelAxisCard
{
  GtkListBoxRow parent_instance;

  TrammelSession *session;
  gsize axis;

  TrammelAxisBadge *badge;
  GtkLabel *kind;
  GtkMenuButton *menu;
  GtkLabel *words;
  GtkLabel *counts;
  GtkLabel *nominal;
  GtkLabel *off;
  GtkLabel *trouble;
  char *told; /* to assistive technology */
};

G_DEFINE_FINAL_TYPE (TrammelAxisCard, trammel_axis_card, GTK_TYPE_LIST_BOX_ROW)

/* Empty text takes no room. */
static void
show_text (GtkLabel *label, const char *text)
{
  trammel_rewrite_label (label, text);
  gtk_widget_set_visible (GTK_WIDGET (label), text && *text);
}

static char *
kind_in_words (const TrammelAxis *axis)
{
  TrammelQuantity travel;
  const char *kind = trammel_axis_kind_label (trammel_axis_kind (axis));
  if (!trammel_axis_travel (axis, &travel))
    return g_strdup (kind);
  double value = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY
                     ? trammel_axis_travel_value (axis)
                     : trammel_axis_travel_value (axis) / trammel_unit_factor (travel.unit);
  const char *unit = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? "°" : trammel_unit_symbol (travel.unit);
  g_autofree char *number = trammel_display_significant (value, 6);
  /* Translators: kind of axis, then its travel and unit: “linear, 180 mm” */
  return g_strdup_printf (_ ("%s, %s %s"), kind, number, unit);
}

static void
show_counts (TrammelAxisCard *self, const TrammelAxis *axis, const TrammelFacts *facts)
{
  double value, u;
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *exact
      = facts ? trammel_exact_to_display (facts->counts_per_unit, trammel_display_decimal_sign ()) : g_strdup ("—");
  if (!trammel_axis_set_in_force (axis, &value, &u))
    {
      g_autofree char *text = g_strdup_printf ("%s %s", exact, unit);
      show_text (self->counts, text);
      show_text (self->nominal, NULL);
      return;
    }
  g_autofree char *number = u > 0 ? trammel_display_rounded (value, u) : trammel_display_significant (value, 7);
  g_autofree char *text = g_strdup_printf ("%s %s", number, unit);
  g_autofree char *nominal = g_strdup_printf (_ ("from the teeth: %s"), exact);
  show_text (self->counts, text);
  show_text (self->nominal, nominal);
}

static char *
off_in_words (TrammelSession *session, const TrammelAdjustment *adjustment, const GError *error, char letter)
{
  if (trammel_session_is_adjusting (session))
    return g_strdup (_ ("working it out…"));
  if (error)
    return g_strdup (_ ("readings cannot be fitted"));
  char *words = adjustment ? trammel_sentences_axis_short (adjustment, letter) : NULL;
  return words ? words : g_strdup (_ ("not measured yet"));
}

static void
show_off (TrammelAxisCard *self, char letter)
{
  g_autoptr (GError) error = NULL;
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, &error);
  const TrammelAxisScale *scale = adjustment ? trammel_adjustment_axis (adjustment, letter) : NULL;
  const char *style = !scale ? "dim-label" : scale->significant ? "off-target" : "on-target";
  g_autofree char *text = off_in_words (self->session, adjustment, error, letter);
  show_text (self->off, text);
  trammel_rewrite_tooltip (GTK_WIDGET (self->off), error ? error->message : NULL);
  trammel_rewrite_classes (GTK_WIDGET (self->off), (const char *[]){ "numeric", style, NULL });
}

/* All that the card shows, for those who cannot see it. */
static void
tell_assistive (TrammelAxisCard *self, char letter)
{
  g_autofree char *name = g_strdup_printf (_ ("Axis %c"), letter);
  g_autofree char *menu = g_strdup_printf (_ ("Change axis %c"), letter);
  g_autofree char *all = g_strdup_printf ("%s. %s. %s. %s. %s", gtk_label_get_text (self->kind),
                                          gtk_label_get_text (self->words), gtk_label_get_text (self->counts),
                                          gtk_label_get_text (self->off), gtk_label_get_text (self->trouble));
  g_autofree char *told = g_strdup_printf ("%s. %s", name, all);
  if (g_strcmp0 (told, self->told) == 0)
    return;
  g_free (self->told);
  self->told = g_steal_pointer (&told);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, all, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->menu), GTK_ACCESSIBLE_PROPERTY_LABEL, menu, -1);
}

void
trammel_axis_card_update (TrammelAxisCard *self)
{
  g_return_if_fail (TRAMMEL_IS_AXIS_CARD (self));

  g_autoptr (GError) error = NULL;
  const TrammelAxis *axis = trammel_machine_axis (trammel_session_machine (self->session), self->axis);
  const TrammelFacts *facts = trammel_session_facts (self->session, self->axis, &error);
  g_autofree char *kind = kind_in_words (axis);
  g_autofree char *words = trammel_train_to_words (trammel_axis_train (axis));

  trammel_axis_badge_set_letter (self->badge, trammel_axis_letter (axis));
  show_text (self->kind, kind);
  show_text (self->words, words);
  trammel_rewrite_tooltip (GTK_WIDGET (self->words), words);
  show_counts (self, axis, facts);
  show_off (self, trammel_axis_letter (axis));
  show_text (self->trouble, error ? error->message : NULL);
  tell_assistive (self, trammel_axis_letter (axis));
}

static void
make_settings (GtkMenuButton *button, gpointer data)
{
  TrammelAxisCard *self = TRAMMEL_AXIS_CARD (data);
  trammel_session_select_axis (self->session, (int)self->axis);
  gtk_menu_button_set_popover (button, trammel_axis_settings_new (self->session, self->axis));
}

GtkWidget *
trammel_axis_card_new (TrammelSession *session, gsize axis)
{
  TrammelAxisCard *self = g_object_new (TRAMMEL_TYPE_AXIS_CARD, NULL);
  self->session = session;
  self->axis = axis;
  trammel_axis_card_update (self);
  return GTK_WIDGET (self);
}

static void
trammel_axis_card_finalize (GObject *object)
{
  g_free (TRAMMEL_AXIS_CARD (object)->told);
  G_OBJECT_CLASS (trammel_axis_card_parent_class)->finalize (object);
}

static void
trammel_axis_card_class_init (TrammelAxisCardClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = trammel_axis_card_finalize;
  g_type_ensure (TRAMMEL_TYPE_AXIS_BADGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/axis-card.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, badge);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, kind);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, menu);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, words);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, counts);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, nominal);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, off);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisCard, trouble);
}

static void
trammel_axis_card_init (TrammelAxisCard *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_menu_button_set_create_popup_func (self->menu, make_settings, self, NULL);
}
