/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/drift-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/drift-chart.h"
#include "draw/drift-sentences.h"
#include "window/amount-entry.h"
#include "window/appearance.h"
#include "window/rewrite.h"
#include "window/sentence-lines.h"

/* Of these one is shown, as it fits what is followed. */
typedef enum
{
  TOLERANCE_SCALE,
  TOLERANCE_LASH,
  TOLERANCE_LASH_TURNING,
  N_TOLERANCES
} Tolerance;

struct _TrammelDriftView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelMachine *machine; /* whose drift is shown; NULL: none yet */
  GPtrArray *drifts;       /* of TrammelDrift, of the axes that the log tells something of; NULL: none yet */
  char letter;             /* of the one that is shown */
  TrammelDriftQuantity shown;
  TrammelDriftQuantity offered[TRAMMEL_N_DRIFT_QUANTITIES]; /* in the list of what is followed */
  guint n_offered;
  gboolean filling; /* controls are being set, not used */

  TrammelAmountEntry *entries[N_TOLERANCES];
  GtkWidget *root;
  GtkDropDown *quantity;
  GtkWidget *axes;
  GtkLabel *unchecked;
  GtkBox *sentences;
  GtkBox *tolerances;
  GtkDrawingArea *picture;
};

G_DEFINE_FINAL_TYPE (TrammelDriftView, trammel_drift_view, GTK_TYPE_WIDGET)

/* What there is */

static gboolean
has_checks (const TrammelDrift *drift)
{
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    if (drift->series[i].checks->len > 0)
      return TRUE;
  return FALSE;
}

static gboolean
turns (const TrammelMachine *machine, char letter)
{
  const int i = trammel_machine_axis_index (machine, letter);
  return i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY;
}

static double
lash_tolerance (TrammelDriftView *self, char letter)
{
  const gboolean turning = turns (self->machine, letter);
  TrammelAmount amount = { NAN, 0 };

  trammel_amount_entry_read (self->entries[turning ? TOLERANCE_LASH_TURNING : TOLERANCE_LASH], &amount);
  return turning ? amount.value * 180 / G_PI : amount.value;
}

static void
find_drifts (TrammelDriftView *self)
{
  TrammelAmount tolerance = { TRAMMEL_DRIFT_TOLERANCE, 0 };

  trammel_amount_entry_read (self->entries[TOLERANCE_SCALE], &tolerance);
  g_clear_pointer (&self->drifts, g_ptr_array_unref);
  self->drifts = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_drift_free);
  for (gsize i = 0; i < trammel_machine_n_axes (self->machine); i++)
    {
      const char letter = trammel_axis_letter (trammel_machine_axis (self->machine, i));
      TrammelDrift *drift
          = trammel_drift_new (self->machine, letter, tolerance.value, lash_tolerance (self, letter), NULL);
      if (has_checks (drift) || !isnan (drift->since))
        g_ptr_array_add (self->drifts, drift);
      else
        trammel_drift_free (drift);
    }
}

/* NULL: the log tells nothing of any axis. */
static const TrammelDrift *
shown_drift (TrammelDriftView *self)
{
  for (guint i = 0; self->drifts && i < self->drifts->len; i++)
    {
      const TrammelDrift *drift = g_ptr_array_index (self->drifts, i);
      if (drift->letter == self->letter)
        return drift;
    }
  return self->drifts && self->drifts->len > 0 ? g_ptr_array_index (self->drifts, 0) : NULL;
}

/* FALSE: there is no chart. */
static gboolean
chart_of (TrammelDriftView *self, TrammelDriftChart *chart)
{
  const TrammelDrift *drift = shown_drift (self);

  if (!drift || drift->series[self->shown].checks->len == 0)
    return FALSE;
  *chart = (TrammelDriftChart){ self->machine, drift, self->shown, NULL };
  return TRUE;
}

static void
draw_picture (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelDriftChart chart;

  if (chart_of (data, &chart))
    trammel_drift_chart_paint (&chart, cr, width, height, trammel_palette (trammel_window_is_dark (GTK_WIDGET (area))));
}

/* Showing */

static void
show_picture (TrammelDriftView *self)
{
  TrammelDriftChart chart;
  const gboolean any = chart_of (self, &chart);

  gtk_widget_set_visible (GTK_WIDGET (self->picture), any);
  if (!any)
    return;
  g_autofree char *words = trammel_drift_chart_to_words (&chart);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Chart over time"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->picture));
}

static void
show_sentences (TrammelDriftView *self, const TrammelDrift *drift)
{
  g_autoptr (GPtrArray) sentences = trammel_sentences_drift (self->machine, drift, self->shown);
  g_autofree char *unchecked = trammel_sentences_drift_unchecked (drift);
  const char *left_out = trammel_sentences_drift_left_out (drift);

  if (left_out)
    g_ptr_array_add (sentences, g_strdup (left_out));
  trammel_sentence_lines_show (self->sentences, sentences, NULL);
  trammel_rewrite_label (self->unchecked, unchecked);
  gtk_widget_set_visible (GTK_WIDGET (self->unchecked), unchecked != NULL);
}

static void
show_tolerances (TrammelDriftView *self, const TrammelDrift *drift)
{
  const gboolean any = drift->series[self->shown].checks->len > 0, lash = self->shown == TRAMMEL_DRIFT_LASH;
  const gboolean turning = turns (self->machine, drift->letter);

  gtk_widget_set_visible (GTK_WIDGET (self->entries[TOLERANCE_SCALE]), any && self->shown == TRAMMEL_DRIFT_COUNTS);
  gtk_widget_set_visible (GTK_WIDGET (self->entries[TOLERANCE_LASH]), any && lash && !turning);
  gtk_widget_set_visible (GTK_WIDGET (self->entries[TOLERANCE_LASH_TURNING]), any && lash && turning);
}

static void
show_chosen (TrammelDriftView *self)
{
  const TrammelDrift *drift = shown_drift (self);

  show_tolerances (self, drift);
  show_sentences (self, drift);
  show_picture (self);
}

/* What is followed: what there are checks of. */
static void
offer_quantities (TrammelDriftView *self, const TrammelDrift *drift)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint chosen = 0;

  self->n_offered = 0;
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    {
      if (drift->series[i].checks->len == 0)
        continue;
      if (self->shown == (TrammelDriftQuantity)i)
        chosen = self->n_offered;
      self->offered[self->n_offered++] = (TrammelDriftQuantity)i;
      gtk_string_list_append (names, trammel_sentences_drift_quantity ((TrammelDriftQuantity)i));
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->quantity, G_LIST_MODEL (names));
  if (self->n_offered > 0)
    {
      gtk_drop_down_set_selected (self->quantity, chosen);
      self->shown = self->offered[chosen];
    }
  self->filling = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->quantity), self->n_offered > 1);
}

static void
quantity_chosen (TrammelDriftView *self)
{
  const guint chosen = gtk_drop_down_get_selected (self->quantity);

  if (self->filling || chosen >= self->n_offered)
    return;
  self->shown = self->offered[chosen];
  show_chosen (self);
}

static void
axis_toggled (GtkToggleButton *button, TrammelDriftView *self)
{
  const char *letter = gtk_button_get_label (GTK_BUTTON (button));

  if (self->filling || !gtk_toggle_button_get_active (button))
    return;
  trammel_session_select_axis (self->session, trammel_machine_axis_index (self->machine, *letter));
}

static void
offer_axes (TrammelDriftView *self)
{
  GtkWidget *child, *first = NULL;

  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->axes)))
    gtk_box_remove (GTK_BOX (self->axes), child);
  for (guint i = 0; i < self->drifts->len; i++)
    {
      const TrammelDrift *drift = g_ptr_array_index (self->drifts, i);
      const char letter[] = { drift->letter, '\0' };
      g_autofree char *meaning = g_strdup_printf (_ ("%c over time"), drift->letter);
      GtkWidget *button = gtk_toggle_button_new_with_label (letter);
      gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (first));
      first = first ? first : button;
      trammel_rewrite_tooltip (button, meaning);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, meaning, -1);
      g_signal_connect (button, "toggled", G_CALLBACK (axis_toggled), self);
      gtk_box_append (GTK_BOX (self->axes), button);
    }
  self->filling = FALSE;
}

static void
mark_axis (TrammelDriftView *self, const TrammelDrift *shown)
{
  self->filling = TRUE;
  for (GtkWidget *button = gtk_widget_get_first_child (self->axes); button;
       button = gtk_widget_get_next_sibling (button))
    if (*gtk_button_get_label (GTK_BUTTON (button)) == shown->letter)
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  self->filling = FALSE;
}

static void
show_axis (TrammelDriftView *self)
{
  const int selected = trammel_session_selected_axis (self->session);

  if (selected >= 0)
    self->letter = trammel_axis_letter (trammel_machine_axis (self->machine, (gsize)selected));
  const TrammelDrift *drift = shown_drift (self);
  gtk_widget_set_visible (GTK_WIDGET (self), drift != NULL);
  if (!drift)
    return;
  mark_axis (self, drift);
  offer_quantities (self, drift);
  show_chosen (self);
}

static void
show_units (TrammelDriftView *self)
{
  trammel_amount_entry_set_unit (self->entries[TOLERANCE_SCALE], trammel_unit_find (TRAMMEL_DIMENSION_NUMBER, "%"));
  trammel_amount_entry_set_unit (self->entries[TOLERANCE_LASH], trammel_machine_display_unit (self->machine));
  trammel_amount_entry_set_unit (self->entries[TOLERANCE_LASH_TURNING],
                                 trammel_unit_find (TRAMMEL_DIMENSION_ANGLE, "deg"));
}

static void
tolerance_changed (TrammelDriftView *self)
{
  if (!self->machine)
    return;
  find_drifts (self);
  if (shown_drift (self))
    show_chosen (self);
}

static gboolean
is_shown (TrammelDriftView *self, const TrammelMachine *machine)
{
  const gsize n = trammel_machine_n_log (machine), n_axes = trammel_machine_n_axes (machine);

  if (!self->machine || n != trammel_machine_n_log (self->machine) || n_axes != trammel_machine_n_axes (self->machine)
      || trammel_machine_display_unit (machine) != trammel_machine_display_unit (self->machine))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (trammel_machine_log (machine, i) != trammel_machine_log (self->machine, i))
      return FALSE;
  for (gsize i = 0; i < n_axes; i++)
    if (trammel_machine_axis (machine, i) != trammel_machine_axis (self->machine, i))
      return FALSE;
  return TRUE;
}

void
trammel_drift_view_show (TrammelDriftView *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_DRIFT_VIEW (self) && TRAMMEL_IS_SESSION (session));

  const TrammelMachine *machine = trammel_session_machine (session);
  g_set_object (&self->session, session);
  if (!is_shown (self, machine))
    {
      TrammelMachine *former = self->machine;
      self->machine = trammel_machine_ref (machine);
      g_clear_pointer (&former, trammel_machine_unref);
      show_units (self);
      find_drifts (self);
      offer_axes (self);
    }
  show_axis (self);
}

/* How it is made */

static void
make_entries (TrammelDriftView *self)
{
  const TrammelAmountKind kinds[N_TOLERANCES] = {
    [TOLERANCE_SCALE] = { .label = _ ("Scale drift that is borne"),
                          .meaning = _ ("How far the scale may be off before the axis is checked again"),
                          .dimension = TRAMMEL_DIMENSION_NUMBER },
    [TOLERANCE_LASH] = { .label = _ ("Most lash that is borne"),
                         .meaning = _ ("How much play there may be before the axis is checked again"),
                         .dimension = TRAMMEL_DIMENSION_LENGTH },
    [TOLERANCE_LASH_TURNING] = { .label = _ ("Most lash that is borne"),
                                 .meaning = _ ("How much play there may be before the axis is checked again"),
                                 .dimension = TRAMMEL_DIMENSION_ANGLE },
  };

  for (int i = 0; i < N_TOLERANCES; i++)
    {
      self->entries[i] = TRAMMEL_AMOUNT_ENTRY (trammel_amount_entry_new (&kinds[i], NULL));
      g_signal_connect_swapped (self->entries[i], "changed", G_CALLBACK (tolerance_changed), self);
      gtk_box_append (self->tolerances, GTK_WIDGET (self->entries[i]));
    }
  trammel_amount_entry_set_usual (self->entries[TOLERANCE_SCALE], "0.1 %");
}

static void
trammel_drift_view_dispose (GObject *object)
{
  TrammelDriftView *self = TRAMMEL_DRIFT_VIEW (object);

  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_pointer (&self->drifts, g_ptr_array_unref);
  g_clear_pointer (&self->machine, trammel_machine_unref);
  G_OBJECT_CLASS (trammel_drift_view_parent_class)->dispose (object);
}

static void
trammel_drift_view_class_init (TrammelDriftViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_drift_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "drift");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/drift-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, quantity);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, axes);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, unchecked);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, tolerances);
  gtk_widget_class_bind_template_child (widget_class, TrammelDriftView, picture);
  gtk_widget_class_bind_template_callback (widget_class, quantity_chosen);
}

static void
trammel_drift_view_init (TrammelDriftView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  make_entries (self);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_drawing_area_set_draw_func (self->picture, draw_picture, self, NULL);
}
