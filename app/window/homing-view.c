/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/homing-view.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/display.h"
#include "draw/homing-sentences.h"
#include "draw/run-chart.h"
#include "machine/homing-report.h"
#include "window/appearance.h"
#include "window/homing-use.h"
#include "window/rewrite.h"
#include "window/row-reason.h"
#include "window/sentence-lines.h"

struct _TrammelHomingView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelMachine *machine;  /* whose homes are shown; NULL: none yet */
  TrammelHomingRows *homes; /* of all axes; NULL: none can be told */
  char *trouble;            /* why */
  char letter;              /* whose homes are shown */
  TrammelHomingReport *report;
  char *group; /* of the report that is shown; NULL: all together */
  gboolean filling;

  GtkWidget *root;
  GtkLabel *title;
  GtkDropDown *set;
  GtkWidget *axes;
  GtkBox *sentences;
  GtkBox *comparison;
  GtkDrawingArea *picture;
  GtkWidget *figures_part;
  GtkGrid *figures;
  GtkWidget *use_part;
  TrammelHomingUse *use;
};

G_DEFINE_FINAL_TYPE (TrammelHomingView, trammel_homing_view, GTK_TYPE_WIDGET)

/* What there is */

static const TrammelAxis *
axis_of (TrammelHomingView *self)
{
  const int i = trammel_machine_axis_index (self->machine, self->letter);
  return i >= 0 ? trammel_machine_axis (self->machine, (gsize)i) : NULL;
}

static const TrammelUnit *
unit_of (TrammelHomingView *self)
{
  return trammel_axis_kind (axis_of (self)) == TRAMMEL_AXIS_ROTARY ? NULL
                                                                   : trammel_machine_display_unit (self->machine);
}

static gboolean
has_homes (TrammelHomingView *self, char letter)
{
  gsize n;
  const TrammelHomingRow *rows = trammel_homing_rows_get (self->homes, &n);

  for (gsize i = 0; i < n; i++)
    if (rows[i].axis == letter)
      return TRUE;
  return FALSE;
}

/* (transfer full): letters of the machine's axes that have homes, in their order. */
static char *
letters_with_homes (TrammelHomingView *self)
{
  GString *letters = g_string_new (NULL);

  for (gsize i = 0; self->homes && i < trammel_machine_n_axes (self->machine); i++)
    {
      const char letter = trammel_axis_letter (trammel_machine_axis (self->machine, i));
      if (has_homes (self, letter))
        g_string_append_c (letters, letter);
    }
  return g_string_free (letters, FALSE);
}

static const TrammelHomingSet *
shown_set (TrammelHomingView *self)
{
  for (gsize i = 0; self->report && self->group && i < self->report->n_groups; i++)
    if (g_str_equal (self->report->groups[i].name, self->group))
      return &self->report->groups[i];
  return self->report ? &self->report->all : NULL;
}

static TrammelRunChart
chart_of (TrammelHomingView *self)
{
  return (TrammelRunChart){ self->letter, unit_of (self), self->report, shown_set (self), NULL };
}

static void
draw_picture (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelHomingView *self = data;

  if (!self->report)
    return;
  const TrammelRunChart chart = chart_of (self);
  trammel_run_chart_paint (&chart, cr, width, height, trammel_palette (trammel_window_is_dark (GTK_WIDGET (area))));
}

/* The figures, a column for each set */

static void
put_figure (TrammelHomingView *self, int column, int row, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  gtk_widget_add_css_class (label, style);
  gtk_grid_attach (self->figures, label, column, row, 1, 1);
}

static char *
range_text (double low, double high, double s, const TrammelUnit *unit)
{
  g_autofree char *from = trammel_sentences_homing_place (low, s, unit);
  g_autofree char *to = trammel_sentences_homing_place (high, s, unit);

  /* translators: from one place to another */
  return g_strdup_printf (_ ("%s to %s"), from, to);
}

static void
put_set (TrammelHomingView *self, int column, const TrammelHomingSet *set)
{
  const TrammelUnit *unit = unit_of (self);
  const TrammelHoming *homing = &set->homing;
  g_autofree char *n = g_strdup_printf ("%u", (guint)set->n);

  put_figure (self, column, 0, trammel_sentences_homing_group (set), "heading");
  put_figure (self, column, 1, n, "numeric");
  if (set->trouble)
    return;
  g_autofree char *mean = trammel_sentences_homing_place (homing->mean, homing->s, unit);
  g_autofree char *s = trammel_sentences_homing_place (homing->s, homing->s, unit);
  g_autofree char *range = trammel_sentences_homing_place (homing->range, homing->s, unit);
  g_autofree char *drift = isnan (homing->drift.slope)
                               ? g_strdup ("—")
                               : trammel_sentences_homing_place (homing->drift.slope, homing->drift.u, unit);
  g_autofree char *p = isnan (homing->drift.p_value) ? g_strdup ("—") : trammel_display_p_value (homing->drift.p_value);
  g_autofree char *outliers = g_strdup_printf ("%u", set->outliers->len);
  g_autofree char *next = range_text (homing->prediction_low, homing->prediction_high, homing->s, unit);
  g_autofree char *all = range_text (homing->tolerance_low, homing->tolerance_high, homing->s, unit);
  const char *const texts[] = { mean, s, range, drift, p, outliers, next, all };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    put_figure (self, column, (int)i + 2, texts[i], "numeric");
}

static void
show_figures (TrammelHomingView *self)
{
  const char *const names[] = {
    _ ("homes"),
    _ ("mean"),
    _ ("standard deviation s"),
    _ ("range"),
    _ ("drift from home to home"),
    _ ("p-value of the drift"),
    _ ("outliers"),
    _ ("next home (95 %)"),
    /* xgettext:no-c-format */
    _ ("99 % of all homes (95 % confidence)"),
  };
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->figures))))
    gtk_grid_remove (self->figures, child);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    put_figure (self, 0, (int)i + 1, names[i], "dim-label");
  for (gsize i = 0; i < self->report->n_groups; i++)
    put_set (self, (int)i + 1, &self->report->groups[i]);
  put_set (self, (int)self->report->n_groups + 1, &self->report->all);
}

/* Showing */

static void
show_use (TrammelHomingView *self)
{
  const TrammelHomingSet *set = shown_set (self);
  const TrammelUnit *unit = unit_of (self);
  const gboolean any = unit && !set->trouble;

  gtk_widget_set_visible (self->use_part, any);
  if (!any)
    return;
  g_autofree char *layer
      = self->letter == 'Z' ? trammel_record_text (trammel_machine_piece (self->machine), "layer_height") : NULL;
  trammel_homing_use_show (self->use, &set->homing, unit, layer);
}

static void
show_set (TrammelHomingView *self)
{
  const TrammelRunChart chart = chart_of (self);
  g_autoptr (GPtrArray) sentences = trammel_sentences_homing_set (chart.set, chart.unit);
  g_autofree char *words = trammel_run_chart_to_words (&chart);

  trammel_sentence_lines_show (self->sentences, sentences, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Run chart of homes"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->picture));
  show_use (self);
}

static void
offer_sets (TrammelHomingView *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint chosen = 0;

  gtk_string_list_append (names, trammel_sentences_homing_group (&self->report->all));
  for (gsize i = 0; i < self->report->n_groups; i++)
    {
      const TrammelHomingSet *set = &self->report->groups[i];
      if (g_strcmp0 (set->name, self->group) == 0)
        chosen = (guint)i + 1;
      gtk_string_list_append (names, trammel_sentences_homing_group (set));
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->set, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->set, chosen);
  self->filling = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->set), self->report->n_groups > 0);
}

static void
set_chosen (TrammelHomingView *self)
{
  const guint chosen = gtk_drop_down_get_selected (self->set);

  if (self->filling || !self->report || chosen > self->report->n_groups)
    return;
  g_free (self->group);
  self->group = chosen > 0 ? g_strdup (self->report->groups[chosen - 1].name) : NULL;
  show_set (self);
}

/* Too few homes, or one that cannot be used. */
static void
show_trouble (TrammelHomingView *self, const char *message)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (sentences, trammel_row_reason (message, NULL));
  trammel_sentence_lines_show (self->sentences, sentences, NULL);
}

static void
show_parts (TrammelHomingView *self, gboolean any)
{
  gtk_widget_set_visible (GTK_WIDGET (self->picture), any);
  gtk_widget_set_visible (self->figures_part, any);
  gtk_widget_set_visible (GTK_WIDGET (self->comparison), any);
  if (any)
    return;
  gtk_widget_set_visible (GTK_WIDGET (self->set), FALSE);
  gtk_widget_set_visible (self->use_part, FALSE);
}

static void
show_report (TrammelHomingView *self)
{
  g_autoptr (TrammelHomingRows) rows = trammel_homing_rows_along (self->homes, self->letter);
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&self->report, trammel_homing_report_free);
  self->report = trammel_homing_report_new (rows, NULL, &error);
  show_parts (self, self->report != NULL);
  if (!self->report)
    {
      show_trouble (self, error->message);
      return;
    }
  g_autoptr (GPtrArray) comparison = trammel_sentences_homing_comparison (self->report, unit_of (self));
  trammel_sentence_lines_show (self->comparison, comparison, NULL);
  offer_sets (self);
  show_figures (self);
  show_set (self);
}

static void
axis_toggled (GtkToggleButton *button, TrammelHomingView *self)
{
  if (self->filling || !gtk_toggle_button_get_active (button))
    return;
  const char letter = *gtk_button_get_label (GTK_BUTTON (button));
  trammel_session_select_axis (self->session, trammel_machine_axis_index (self->machine, letter));
}

static void
offer_axes (TrammelHomingView *self, const char *letters)
{
  GtkWidget *child, *first = NULL;

  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->axes)))
    gtk_box_remove (GTK_BOX (self->axes), child);
  for (const char *letter = letters; *letter; letter++)
    {
      const char label[] = { *letter, '\0' };
      g_autofree char *meaning = g_strdup_printf (_ ("Homes of %c"), *letter);
      GtkWidget *button = gtk_toggle_button_new_with_label (label);
      gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (first));
      first = first ? first : button;
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), *letter == self->letter);
      trammel_rewrite_tooltip (button, meaning);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, meaning, -1);
      g_signal_connect (button, "toggled", G_CALLBACK (axis_toggled), self);
      gtk_box_append (GTK_BOX (self->axes), button);
    }
  self->filling = FALSE;
  gtk_widget_set_visible (self->axes, strlen (letters) > 1);
}

static void
mark_axis (TrammelHomingView *self)
{
  self->filling = TRUE;
  for (GtkWidget *button = gtk_widget_get_first_child (self->axes); button;
       button = gtk_widget_get_next_sibling (button))
    if (*gtk_button_get_label (GTK_BUTTON (button)) == self->letter)
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  self->filling = FALSE;
}

/* The selected axis where it has homes, else the one that was shown, else the first. */
static char
letter_to_show (TrammelHomingView *self, const char *letters)
{
  const int selected = trammel_session_selected_axis (self->session);
  const char letter
      = selected >= 0 ? trammel_axis_letter (trammel_machine_axis (self->machine, (gsize)selected)) : '\0';

  if (letter != '\0' && strchr (letters, letter))
    return letter;
  return self->letter != '\0' && strchr (letters, self->letter) ? self->letter : *letters;
}

static void
take_machine (TrammelHomingView *self, const TrammelMachine *machine)
{
  TrammelMachine *former = self->machine;
  g_autoptr (GError) error = NULL;
  const gboolean same = former && trammel_machine_readings (former) == trammel_machine_readings (machine)
                        && (self->homes || self->trouble);

  self->machine = trammel_machine_ref (machine);
  g_clear_pointer (&former, trammel_machine_unref);
  if (same)
    return;
  g_clear_pointer (&self->homes, trammel_homing_rows_free);
  g_clear_pointer (&self->trouble, g_free);
  self->homes = trammel_homing_rows_of_readings (trammel_machine_readings (machine), &error);
  self->trouble = error ? g_strdup (error->message) : NULL;
}

static void
show_title (TrammelHomingView *self)
{
  g_autofree char *title = self->homes ? g_strdup_printf (_ ("Homes of %c"), self->letter) : g_strdup (_ ("Homes"));
  trammel_rewrite_label (self->title, title);
}

gboolean
trammel_homing_view_show (TrammelHomingView *self, TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_HOMING_VIEW (self) && TRAMMEL_IS_SESSION (session), FALSE);

  const TrammelMachine *machine = trammel_session_machine (session);
  const gboolean same_machine = self->machine == machine;
  g_set_object (&self->session, session);
  if (!same_machine)
    take_machine (self, machine);
  g_autofree char *letters = letters_with_homes (self);
  const gboolean any = *letters != '\0' || self->trouble;
  gtk_widget_set_visible (GTK_WIDGET (self), any);
  if (!any)
    return FALSE;
  const char letter = *letters != '\0' ? letter_to_show (self, letters) : '\0';
  if (same_machine && letter == self->letter)
    return TRUE;
  self->letter = letter;
  show_title (self);
  if (!same_machine)
    offer_axes (self, letters);
  mark_axis (self);
  if (self->homes)
    show_report (self);
  else
    {
      show_parts (self, FALSE);
      show_trouble (self, self->trouble);
    }
  return TRUE;
}

static void
trammel_homing_view_dispose (GObject *object)
{
  TrammelHomingView *self = TRAMMEL_HOMING_VIEW (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->report, trammel_homing_report_free);
  g_clear_pointer (&self->homes, trammel_homing_rows_free);
  g_clear_pointer (&self->machine, trammel_machine_unref);
  g_clear_pointer (&self->trouble, g_free);
  g_clear_pointer (&self->group, g_free);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_homing_view_parent_class)->dispose (object);
}

static void
trammel_homing_view_class_init (TrammelHomingViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_homing_view_dispose;
  g_type_ensure (TRAMMEL_TYPE_HOMING_USE);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "homing");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/homing-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, title);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, set);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, axes);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, comparison);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, picture);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, figures_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, figures);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, use_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelHomingView, use);
  gtk_widget_class_bind_template_callback (widget_class, set_chosen);
}

static void
trammel_homing_view_init (TrammelHomingView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_drawing_area_set_draw_func (self->picture, draw_picture, self, NULL);
}
