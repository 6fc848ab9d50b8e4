/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/positions-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/cycle-sentences.h"
#include "draw/display.h"
#include "draw/position-names.h"
#include "draw/position-plot.h"
#include "machine/axis-cycles.h"
#include "measure/compensation.h"
#include "window/appearance.h"
#include "window/rewrite.h"

#define FEWEST_TARGETS 2

struct _TrammelPositionsView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelReadings *readings; /* that were looked at */
  TrammelAxis *axis;         /* whose cycles are shown */
  char *set_name;            /* NULL: rows without a set */
  gboolean filling;
  TrammelPositions *positions;
  TrammelAxisCycles *cycles;

  GtkWidget *root;
  GtkLabel *title;
  GtkDropDown *set;
  GtkLabel *sentences;
  GtkDrawingArea *picture;
  GtkWidget *figures_part;
  GtkGrid *figures;
  GtkLabel *notes;
  GtkWidget *copy;
};

G_DEFINE_FINAL_TYPE (TrammelPositionsView, trammel_positions_view, GTK_TYPE_WIDGET)

static const TrammelUnit *
unit_of (TrammelPositionsView *self)
{
  return trammel_axis_kind (self->axis) == TRAMMEL_AXIS_ROTARY
             ? NULL
             : trammel_machine_display_unit (trammel_session_machine (self->session));
}

static TrammelPositionPlot
plot_of (TrammelPositionsView *self)
{
  return (TrammelPositionPlot){ trammel_axis_letter (self->axis), unit_of (self), self->positions, NULL };
}

static void
draw_picture (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelPositionsView *self = data;

  if (!self->positions)
    return;
  const TrammelPositionPlot plot = plot_of (self);
  trammel_position_plot_paint (&plot, cr, width, height, trammel_palette (trammel_window_is_dark (GTK_WIDGET (area))));
}

static GtkWidget *
grid_label (TrammelPositionsView *self, int column, int row, float xalign)
{
  GtkWidget *label = gtk_grid_get_child_at (self->figures, column, row);

  if (label)
    return label;
  label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_widget_add_css_class (label, "numeric");
  gtk_grid_attach (self->figures, label, column, row, 1, 1);
  return label;
}

static void
show_figures (TrammelPositionsView *self)
{
  const TrammelPositionFigures before = trammel_positions_before (self->positions);
  const TrammelPositionFigures after = trammel_positions_after (self->positions);
  const TrammelUnit *unit = unit_of (self);

  gsize n;
  const TrammelPositionName *names = trammel_position_names (&n);
  int row = 0;

  trammel_rewrite_label (GTK_LABEL (grid_label (self, 1, row, 1)), _ ("measured"));
  trammel_rewrite_label (GTK_LABEL (grid_label (self, 2, row++, 1)), _ ("corrected"));
  for (gsize i = 0; i < n; i++, row++)
    {
      g_autofree char *first = trammel_display_travel (trammel_position_figure (&before, &names[i]), unit);
      g_autofree char *second = trammel_display_travel (trammel_position_figure (&after, &names[i]), unit);
      trammel_rewrite_label (GTK_LABEL (grid_label (self, 0, row, 0)), names[i].symbol);
      trammel_rewrite_label (GTK_LABEL (grid_label (self, 1, row, 1)), first);
      trammel_rewrite_label (GTK_LABEL (grid_label (self, 2, row, 1)), second);
      trammel_rewrite_label (GTK_LABEL (grid_label (self, 3, row, 0)), _ (names[i].meaning));
    }
}

static void
show_sentences (TrammelPositionsView *self)
{
  g_autoptr (GPtrArray) sentences = self->cycles ? trammel_sentences_cycles (self->cycles, unit_of (self)) : NULL;
  g_autofree char *notes = g_strjoinv (" ", (char **)trammel_positions_notes (self->positions));
  GString *text = g_string_new (NULL);

  for (guint i = 0; sentences && i < sentences->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (const char *)g_ptr_array_index (sentences, i));
  trammel_rewrite_label (self->sentences, text->str);
  gtk_widget_set_visible (GTK_WIDGET (self->sentences), text->len > 0);
  g_string_free (text, TRUE);
  trammel_rewrite_label (self->notes, notes);
  gtk_widget_set_visible (GTK_WIDGET (self->notes), notes[0] != '\0');
}

static void
show_title (TrammelPositionsView *self)
{
  g_autofree char *title = g_strdup_printf (_ ("Positions along %c"), trammel_axis_letter (self->axis));
  trammel_rewrite_label (self->title, title);
}

static void
show_analysis (TrammelPositionsView *self)
{
  const TrammelPositionPlot plot = plot_of (self);
  g_autofree char *words = trammel_position_plot_to_words (&plot);
  show_sentences (self);
  show_figures (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Plot of deviations"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->picture));
}

static const TrammelReading *
rows_of (TrammelPositionsView *self, gsize *n)
{
  return trammel_readings_rows (trammel_machine_readings (trammel_session_machine (self->session)), n);
}

/* FALSE: the chosen set tells nothing. */
static gboolean
analyse (TrammelPositionsView *self)
{
  gsize n, n_targets;
  const TrammelReading *rows = rows_of (self, &n);

  g_clear_pointer (&self->positions, trammel_positions_free);
  g_clear_pointer (&self->cycles, trammel_axis_cycles_free);
  self->positions = trammel_positions_new (rows, n, trammel_axis_letter (self->axis), self->set_name, NULL);
  if (!self->positions)
    return FALSE;
  trammel_positions_targets (self->positions, &n_targets);
  if (n_targets < FEWEST_TARGETS)
    {
      g_clear_pointer (&self->positions, trammel_positions_free);
      return FALSE;
    }
  self->cycles = trammel_axis_cycles_new (self->axis, self->positions, NULL);
  return TRUE;
}

/* Fills the list of sets; keeps the one that is chosen where it still is. FALSE: the axis has none. */
static gboolean
offer_sets (TrammelPositionsView *self)
{
  gsize n;
  const TrammelReading *rows = rows_of (self, &n);
  g_autoptr (GArray) sets = trammel_position_sets (rows, n);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (GPtrArray) of_axis = g_ptr_array_new ();
  guint chosen = 0;

  for (guint i = 0; i < sets->len; i++)
    {
      const TrammelPositionSet *set = &g_array_index (sets, TrammelPositionSet, i);
      if (set->axis != trammel_axis_letter (self->axis))
        continue;
      if (g_strcmp0 (set->set, self->set_name) == 0)
        chosen = of_axis->len;
      gtk_string_list_append (names, set->set ? set->set : _ ("without a set"));
      g_ptr_array_add (of_axis, (gpointer)set->set);
    }
  if (of_axis->len == 0)
    return FALSE;
  self->filling = TRUE;
  gtk_drop_down_set_model (self->set, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->set, chosen);
  gtk_widget_set_visible (GTK_WIDGET (self->set), of_axis->len > 1);
  self->filling = FALSE;
  g_free (self->set_name);
  self->set_name = g_strdup (g_ptr_array_index (of_axis, chosen));
  return TRUE;
}

/* Of a set that tells nothing only the title stays, and the list in which another can be chosen. */
static void
show_chosen_set (TrammelPositionsView *self)
{
  const gboolean any = analyse (self);

  gtk_widget_set_visible (GTK_WIDGET (self->sentences), any);
  gtk_widget_set_visible (GTK_WIDGET (self->picture), any);
  gtk_widget_set_visible (self->figures_part, any);
  gtk_widget_set_visible (self->copy, any);
  if (any)
    {
      show_analysis (self);
      return;
    }
  gtk_label_set_text (self->notes, _ ("Positions at two targets or more are wanted in a set."));
  gtk_widget_set_visible (GTK_WIDGET (self->notes), TRUE);
}

static void
show_or_hide (TrammelPositionsView *self)
{
  const gboolean any = self->axis && offer_sets (self);

  gtk_widget_set_visible (GTK_WIDGET (self), any);
  if (!any)
    return;
  show_title (self);
  show_chosen_set (self);
}

static void
set_chosen (TrammelPositionsView *self)
{
  GtkStringObject *chosen = gtk_drop_down_get_selected_item (self->set);
  const char *name = chosen ? gtk_string_object_get_string (chosen) : NULL;

  if (self->filling || !name)
    return;
  g_free (self->set_name);
  self->set_name = g_str_equal (name, _ ("without a set")) ? NULL : g_strdup (name);
  show_chosen_set (self);
}

static const TrammelAxis *
selected_axis (TrammelSession *session)
{
  const TrammelMachine *machine = trammel_session_machine (session);
  const int i = trammel_session_selected_axis (session);

  return i >= 0 && (gsize)i < trammel_machine_n_axes (machine) ? trammel_machine_axis (machine, (gsize)i) : NULL;
}

void
trammel_positions_view_show (TrammelPositionsView *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_POSITIONS_VIEW (self) && TRAMMEL_IS_SESSION (session));

  const TrammelAxis *axis = selected_axis (session);
  const TrammelReadings *readings = trammel_machine_readings (trammel_session_machine (session));
  TrammelReadings *former = self->readings;

  g_set_object (&self->session, session);
  if (self->readings == readings && self->axis == axis)
    {
      /* The display unit may be another one */
      if (self->positions && gtk_widget_get_visible (GTK_WIDGET (self)))
        show_analysis (self);
      return;
    }
  self->readings = trammel_readings_ref (readings);
  g_clear_pointer (&former, trammel_readings_unref);
  TrammelAxis *kept = axis ? trammel_axis_ref (axis) : NULL;
  g_clear_pointer (&self->axis, trammel_axis_unref);
  self->axis = kept;
  show_or_hide (self);
}

/* Numbers with a point and in mm whatever is shown: the table goes into a program. */
static void
copy_compensation (TrammelPositionsView *self)
{
  g_return_if_fail (self->positions != NULL);

  g_autofree char *rows = trammel_compensation_to_text (self->positions, self->cycles ? self->cycles->cycles : NULL);
  g_autofree char *table = g_strconcat ("target\tcorrection\n", rows, NULL);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), table);
}

static void
trammel_positions_view_dispose (GObject *object)
{
  TrammelPositionsView *self = TRAMMEL_POSITIONS_VIEW (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->readings, trammel_readings_unref);
  g_clear_pointer (&self->axis, trammel_axis_unref);
  g_clear_pointer (&self->set_name, g_free);
  g_clear_pointer (&self->positions, trammel_positions_free);
  g_clear_pointer (&self->cycles, trammel_axis_cycles_free);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_positions_view_parent_class)->dispose (object);
}

static void
trammel_positions_view_class_init (TrammelPositionsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_positions_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "positions");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/positions-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, title);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, set);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, picture);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, figures_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, figures);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, notes);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionsView, copy);
  gtk_widget_class_bind_template_callback (widget_class, set_chosen);
  gtk_widget_class_bind_template_callback (widget_class, copy_compensation);
}

static void
trammel_positions_view_init (TrammelPositionsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_drawing_area_set_draw_func (self->picture, draw_picture, self, NULL);
}
