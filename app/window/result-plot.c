/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/result-plot.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/display.h"
#include "draw/piece-drawing.h"
#include "window/error-plot-view.h"
#include "window/rewrite.h"

struct _TrammelResultPlot
{
  GtkWidget parent_instance;

  TrammelSession *session;
  char *view;       /* "X", "XY" */
  gboolean showing; /* buttons are being set, not pressed */
  int followed_axis, followed_row;

  GtkWidget *root;
  GtkWidget *views;
  GtkToggleButton *both, *before, *after;
  TrammelErrorPlotView *picture;
  GtkLabel *chosen;
};

G_DEFINE_FINAL_TYPE (TrammelResultPlot, trammel_result_plot, GTK_TYPE_WIDGET)

/* Lengths along a rotary axis are degrees: no unit then. */
static const TrammelUnit *
unit_of_reading (const TrammelMachine *machine, const TrammelReading *reading)
{
  int i = trammel_machine_axis_index (machine, reading->along.axes[0]);
  gboolean rotary = i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, i)) == TRAMMEL_AXIS_ROTARY;
  return rotary ? NULL : trammel_machine_display_unit (machine);
}

static char *
length_text (double mm, const TrammelUnit *unit)
{
  if (unit)
    return trammel_display_length (mm, unit, trammel_unit_factor (unit) > 1 ? 4 : 3);
  g_autofree char *number = trammel_display_number (mm, 4);
  return g_strconcat (number, "°", NULL);
}

/* "Reading 3, Outside along X, 100 mm: measured 99.710 mm, expected 99.698 mm, 0.012 mm (0.4 u) above." */
static void
show_chosen_reading (TrammelResultPlot *self, const TrammelAdjustment *adjustment)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  int row = trammel_session_selected_reading (self->session);
  gsize n;
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);

  trammel_error_plot_view_set_selected_row (self->picture, row);
  if (row < 0 || (gsize)row >= n || isnan (fitted[row].predicted))
    {
      trammel_rewrite_label (self->chosen,
                             _ ("Click a reading, or go through them with the arrow keys, to see it in numbers."));
      return;
    }
  const TrammelReading *reading = trammel_readings_get (trammel_machine_readings (machine), (gsize)row);
  const TrammelUnit *unit = unit_of_reading (machine, reading);
  g_autofree char *words = trammel_piece_reading_to_words (reading, unit);
  g_autofree char *measured = length_text (reading->measured, unit);
  g_autofree char *expected = length_text (fitted[row].predicted, unit);
  g_autofree char *residual = length_text (fabs (fitted[row].residual), unit);
  g_autofree char *standardized = trammel_display_number (fabs (fitted[row].standardized), 1);
  g_autofree char *text
      = g_strdup_printf (fitted[row].residual < 0
                             ? _ ("Reading %d, %s: measured %s, expected %s: %s below, %s of its standard deviations.")
                             : _ ("Reading %d, %s: measured %s, expected %s: %s above, %s of its standard deviations."),
                         row + 1, words, measured, expected, residual, standardized);
  trammel_rewrite_label (self->chosen, text);
}

static void
make_plot (TrammelResultPlot *self, const TrammelAdjustment *adjustment)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  TrammelErrorPlot *plot = NULL;

  if (self->view)
    plot = trammel_error_plot_new (machine, adjustment, trammel_machine_readings (machine), self->view);
  trammel_error_plot_view_show (self->picture, plot);
  show_chosen_reading (self, adjustment);
}

static void
view_toggled (GtkToggleButton *button, TrammelResultPlot *self)
{
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  const char *view = g_object_get_data (G_OBJECT (button), "view");

  if (self->showing || !gtk_toggle_button_get_active (button) || !adjustment)
    return;
  g_free (self->view);
  self->view = g_strdup (view);
  make_plot (self, adjustment);
  if (view[1] == '\0')
    trammel_session_select_axis (self->session,
                                 trammel_machine_axis_index (trammel_session_machine (self->session), *view));
}

static char *
view_meaning (const char *view)
{
  if (view[1] == '\0')
    return g_strdup_printf (_ ("Errors along %c"), view[0]);
  return g_strdup_printf (_ ("Skew between %c and %c"), view[0], view[1]);
}

static GtkWidget *
make_view_button (TrammelResultPlot *self, const char *view, GtkWidget *group)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (view);
  g_autofree char *meaning = view_meaning (view);

  g_object_set_data_full (G_OBJECT (button), "view", g_strdup (view), g_free);
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (group));
  trammel_rewrite_tooltip (button, meaning);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, meaning, -1);
  g_signal_connect (button, "toggled", G_CALLBACK (view_toggled), self);
  return button;
}

static gboolean
offers (TrammelResultPlot *self, const char *const *views)
{
  GtkWidget *button = gtk_widget_get_first_child (self->views);

  for (; *views; views++, button = gtk_widget_get_next_sibling (button))
    if (!button || !g_str_equal (g_object_get_data (G_OBJECT (button), "view"), *views))
      return FALSE;
  return button == NULL;
}

static void
make_view_buttons (TrammelResultPlot *self, const char *const *views)
{
  GtkWidget *child, *first = NULL;

  while ((child = gtk_widget_get_first_child (self->views)))
    gtk_box_remove (GTK_BOX (self->views), child);
  for (; *views; views++)
    {
      GtkWidget *button = make_view_button (self, *views, first);
      first = first ? first : button;
      gtk_box_append (GTK_BOX (self->views), button);
    }
}

/* The view that @reading is shown in; FALSE: none. */
static gboolean
view_of_reading (const TrammelReading *reading, char view[3])
{
  if (!reading->has_along || (reading->along.axes[1] != '\0' && reading->along.axes[2] != '\0'))
    return FALSE;
  view[0] = reading->along.axes[0];
  view[1] = reading->along.axes[1];
  view[2] = '\0';
  return TRUE;
}

static void
change_view (TrammelResultPlot *self, const char *view, const char *const *views)
{
  if (!g_strv_contains (views, view) || g_strcmp0 (view, self->view) == 0)
    return;
  g_free (self->view);
  self->view = g_strdup (view);
}

/* Goes along when another axis or another reading is selected; stays otherwise, where it can. */
static void
follow_selection (TrammelResultPlot *self, const char *const *views)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelReadings *readings = trammel_machine_readings (machine);
  int axis = trammel_session_selected_axis (self->session), row = trammel_session_selected_reading (self->session);
  char view[3] = { '\0' };

  if (axis >= 0 && axis != self->followed_axis)
    {
      view[0] = trammel_axis_letter (trammel_machine_axis (machine, (gsize)axis));
      change_view (self, view, views);
    }
  if (row >= 0 && row != self->followed_row && view_of_reading (trammel_readings_get (readings, (gsize)row), view))
    change_view (self, view, views);
  self->followed_axis = axis;
  self->followed_row = row;
  if (self->view && g_strv_contains (views, self->view))
    return;
  g_free (self->view);
  self->view = g_strdup (views[0]);
}

static void
show_views (TrammelResultPlot *self, const TrammelAdjustment *adjustment)
{
  g_auto (GStrv) views = trammel_error_plot_views (trammel_session_machine (self->session), adjustment);
  GtkWidget *button;

  follow_selection (self, (const char *const *)views);
  self->showing = TRUE;
  if (!offers (self, (const char *const *)views))
    make_view_buttons (self, (const char *const *)views);
  for (button = gtk_widget_get_first_child (self->views); button; button = gtk_widget_get_next_sibling (button))
    if (g_strcmp0 (g_object_get_data (G_OBJECT (button), "view"), self->view) == 0)
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  self->showing = FALSE;
}

static void
panels_chosen (TrammelResultPlot *self)
{
  TrammelErrorPanels panels = gtk_toggle_button_get_active (self->before)  ? TRAMMEL_ERROR_PANELS_BEFORE
                              : gtk_toggle_button_get_active (self->after) ? TRAMMEL_ERROR_PANELS_AFTER
                                                                           : TRAMMEL_ERROR_PANELS_BOTH;
  trammel_error_plot_view_set_panels (self->picture, panels);
}

static void
row_selected (TrammelResultPlot *self, int row)
{
  trammel_session_select_reading (self->session, row);
}

void
trammel_result_plot_show (TrammelResultPlot *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_RESULT_PLOT (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  g_set_object (&self->session, session);
  show_views (self, adjustment);
  make_plot (self, adjustment);
  /* Readings of play alone have no errors along an axis to show. */
  gtk_widget_set_visible (GTK_WIDGET (self), self->view != NULL);
}

void
trammel_result_plot_show_selection (TrammelResultPlot *self, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_RESULT_PLOT (self) && self->session != NULL && adjustment != NULL);

  g_autofree char *shown = g_strdup (self->view);
  show_views (self, adjustment);
  if (g_strcmp0 (shown, self->view) != 0)
    make_plot (self, adjustment);
  else
    show_chosen_reading (self, adjustment);
}

static void
trammel_result_plot_dispose (GObject *object)
{
  TrammelResultPlot *self = TRAMMEL_RESULT_PLOT (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->view, g_free);
  G_OBJECT_CLASS (trammel_result_plot_parent_class)->dispose (object);
}

static void
trammel_result_plot_class_init (TrammelResultPlotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (TRAMMEL_TYPE_ERROR_PLOT_VIEW);
  G_OBJECT_CLASS (klass)->dispose = trammel_result_plot_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/result-plot.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, views);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, both);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, before);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, after);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, picture);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPlot, chosen);
  gtk_widget_class_bind_template_callback (widget_class, panels_chosen);
  gtk_widget_class_bind_template_callback (widget_class, row_selected);
}

static void
trammel_result_plot_init (TrammelResultPlot *self)
{
  self->followed_axis = self->followed_row = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
}
