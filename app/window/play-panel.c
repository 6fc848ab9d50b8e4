/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/play-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/duty-sentences.h"
#include "window/meter-rows.h"
#include "window/sentence-lines.h"

/* Below this share the readings have told next to nothing about the play. */

struct _TrammelPlayPanel
{
  TrammelAxisPanel parent_instance;

  GtkWidget *root;
  GtkBox *sentences, *details, *missing;
  GtkWidget *missing_part;
  GtkGrid *meters;
};

G_DEFINE_FINAL_TYPE (TrammelPlayPanel, trammel_play_panel, TRAMMEL_TYPE_AXIS_PANEL)

/* The play of @letter that the readings found; NULL when they say next to nothing about it. */
static const TrammelParameter *
lash_found (TrammelPlayPanel *self, char letter)
{
  TrammelSession *session = trammel_axis_panel_session (TRAMMEL_AXIS_PANEL (self));
  const TrammelAdjustment *adjustment = trammel_session_adjustment (session, NULL);

  return adjustment ? trammel_adjustment_learned_lash (adjustment, letter) : NULL;
}

static void
add_part (GArray *meters, const TrammelTrain *train, const TrammelBench *bench, const TrammelUnit *unit,
          const TrammelPlayPart *part, double longest)
{
  if (isnan (part->travel))
    return;
  g_autofree char *travel = trammel_sentences_travel (bench, part->travel, unit);
  trammel_meters_add (meters, trammel_sentences_part (train, part->part + 1),
                      isnan (part->share) ? g_strdup (travel)
                                          : g_strdup_printf (_ ("%s, %.0f %%"), travel, part->share * 100),
                      part->travel / longest, NAN, FALSE);
}

/* A bar for each part, all to one scale with what the readings found. */
static void
show_meters (TrammelPlayPanel *self, const TrammelTrain *train, const TrammelBench *bench,
             const TrammelParameter *found)
{
  g_autoptr (GArray) meters = trammel_meters_new ();
  const TrammelUnit *unit = trammel_axis_panel_unit (TRAMMEL_AXIS_PANEL (self));
  double longest = fmax (bench->play->worst, found ? found->value : NAN);

  if (!(longest > 0))
    longest = NAN;
  for (gsize i = 0; i < bench->play->n_parts; i++)
    add_part (meters, train, bench, unit, &bench->play->parts[i], longest);
  if (bench->play->worst > 0)
    trammel_meters_add (meters, g_strdup (_ ("All together")),
                        trammel_sentences_travel (bench, bench->play->worst, unit), bench->play->worst / longest, NAN,
                        FALSE);
  if (found)
    trammel_meters_add (meters, g_strdup (_ ("Found by the readings")),
                        trammel_sentences_travel (bench, found->value, unit), found->value / longest, NAN,
                        found->low > bench->play->worst);
  trammel_meter_rows_show (self->meters, meters, FALSE);
}

static void
show_needs (TrammelPlayPanel *self, const TrammelTrain *train, const TrammelBench *bench)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; bench && i < bench->play->needs->len; i++)
    g_ptr_array_add (sentences, trammel_sentences_need (train, g_ptr_array_index (bench->play->needs, i)));
  trammel_sentence_lines_show (self->missing, sentences, "dim-label");
  gtk_widget_set_visible (self->missing_part, sentences->len > 0);
}

static void
trammel_play_panel_show (TrammelAxisPanel *panel, const TrammelAxis *axis, const TrammelBench *bench)
{
  TrammelPlayPanel *self = TRAMMEL_PLAY_PANEL (panel);
  const TrammelUnit *unit = trammel_axis_panel_unit (panel);
  const TrammelTrain *train = trammel_axis_train (axis);
  const TrammelParameter *found = lash_found (self, trammel_axis_letter (axis));
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) details = g_ptr_array_new_with_free_func (g_free);

  show_needs (self, train, bench);
  gtk_widget_set_visible (GTK_WIDGET (self->meters), bench != NULL);
  if (bench)
    {
      char *play = trammel_sentences_play (train, bench, unit);
      g_ptr_array_add (sentences,
                       play ? play : g_strdup (_ ("Enter the lash of the parts, and it is carried to the carriage.")));
      if (found)
        g_ptr_array_add (details,
                         trammel_sentences_play_found (bench, found->value, (found->high - found->low) / 2, unit));
      else
        g_ptr_array_add (details, g_strdup (_ ("No reading tells the play yet: measure a travel after a reversal, or "
                                               "positions approached from both sides.")));
      show_meters (self, train, bench, found);
    }
  else
    g_ptr_array_add (sentences, g_strdup (trammel_axis_panel_trouble ()));
  trammel_sentence_lines_show (self->sentences, sentences, "verdict");
  trammel_sentence_lines_show (self->details, details, NULL);
}

static void
trammel_play_panel_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_PLAY_PANEL (object)->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_play_panel_parent_class)->dispose (object);
}

static void
trammel_play_panel_class_init (TrammelPlayPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_play_panel_dispose;
  TRAMMEL_AXIS_PANEL_CLASS (klass)->show = trammel_play_panel_show;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/play-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, details);
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, missing);
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, missing_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelPlayPanel, meters);
}

static void
trammel_play_panel_init (TrammelPlayPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
trammel_play_panel_new (TrammelSession *session)
{
  return trammel_axis_panel_new (TRAMMEL_TYPE_PLAY_PANEL, session);
}
