/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/result-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "base/error.h"
#include "draw/display.h"
#include "draw/sentences.h"
#include "window/axis-results.h"
#include "window/budget-view.h"
#include "window/columns.h"
#include "window/explanations-view.h"
#include "window/findings-view.h"
#include "window/fit-view.h"
#include "window/homing-view.h"
#include "window/method-view.h"
#include "window/next-view.h"
#include "window/positions-view.h"
#include "window/result-plot.h"
#include "window/row-reason.h"
#include "window/trials-view.h"
#include "window/unknowns-view.h"

#define RESPONSE_UNDO 1

struct _TrammelResultPage
{
  GtkWidget parent_instance;

  TrammelSession *session;
  gboolean stale;                 /* something changed while nobody looked */
  int bad_row;                    /* that the message about trouble speaks of; −1 */
  TrammelMachine *after_adopting; /* the value that the message about adopting speaks of */

  GtkWidget *root;
  GtkInfoBar *adopted;
  GtkLabel *adopted_text;
  GtkStack *stack;
  GtkLabel *empty_title;
  GtkLabel *empty_text;
  GtkSpinner *spinner;
  GtkLabel *busy_text;
  TrammelAxisResults *axes;
  TrammelExplanationsView *explanations;
  TrammelFindingsView *findings;
  GtkWidget *trouble;
  GtkWidget *nothing_to_fit;
  GtkLabel *trouble_text;
  TrammelResultPlot *plot;
  TrammelPositionsView *positions;
  TrammelHomingView *homing;
  TrammelUnknownsView *unknowns;
  TrammelNextView *next;
  TrammelBudgetView *budget;
  TrammelTrialsView *trials;
  GtkExpander *fit_part;
  TrammelFitView *fit;
  GtkExpander *method_part;
  TrammelMethodView *method;
};

G_DEFINE_FINAL_TYPE (TrammelResultPage, trammel_result_page, GTK_TYPE_WIDGET)

/* What is shown */

static gboolean
waits_for_readings (TrammelResultPage *self)
{
  return trammel_readings_length (trammel_machine_readings (trammel_session_machine (self->session))) > 0;
}

/* Rows have values, but do not say of what. */
static gboolean
has_values (TrammelResultPage *self)
{
  gsize n;
  const TrammelReading *rows
      = trammel_readings_rows (trammel_machine_readings (trammel_session_machine (self->session)), &n);

  for (gsize i = 0; i < n; i++)
    if (!isnan (rows[i].measured))
      return TRUE;
  return FALSE;
}

static void
show_empty (TrammelResultPage *self)
{
  gboolean adopted = trammel_machine_n_log (trammel_session_machine (self->session)) > 0;

  gtk_label_set_text (self->empty_title, adopted ? _ ("Nothing has been measured since the correction")
                                                 : _ ("Nothing has been measured yet"));
  gtk_label_set_text (self->empty_text,
                      has_values (self)
                          ? _ ("There are values, but it is not said yet what was measured: kind, along and mostly "
                               "nominal are wanted under Readings.")
                      : adopted ? _ ("The corrected values are in force. To see how well they do, print the test piece "
                                     "again, measure it, and type what you read.")
                      : waits_for_readings (self)
                          ? _ ("The rows are there and wait for what you measure. Type it under Readings; the result "
                               "appears here by itself.")
                          : _ ("Print the test piece and measure it with a caliper, or move an axis and read how far "
                               "it went. Type what you read under Readings; the result appears here by itself."));
  gtk_stack_set_visible_child_name (self->stack, "empty");
}

static void
show_busy (TrammelResultPage *self)
{
  gsize n = trammel_readings_length (trammel_machine_readings (trammel_session_machine (self->session)));
  g_autofree char *text = g_strdup_printf (ngettext ("Fitting %zu reading …", "Fitting %zu readings …", n), n);

  gtk_label_set_text (self->busy_text, text);
  gtk_stack_set_visible_child_name (self->stack, "busy");
}

static void
set_result_visible (TrammelResultPage *self, gboolean visible)
{
  gtk_widget_set_visible (GTK_WIDGET (self->axes), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->findings), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->plot), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->unknowns), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->next), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->budget), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->trials), visible);
  gtk_widget_set_visible (GTK_WIDGET (self->fit_part), visible);
  gtk_widget_set_visible (self->trouble, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->method_part), TRUE);
  gtk_widget_set_visible (self->nothing_to_fit, FALSE);
  if (!visible)
    trammel_explanations_view_show (self->explanations, trammel_session_machine (self->session), NULL);
}

static void
go_to_readings (TrammelResultPage *self)
{
  if (self->bad_row >= 0)
    trammel_session_select_reading (self->session, self->bad_row);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-page", "s", "readings");
}

static void
show_trouble (TrammelResultPage *self, const GError *error)
{
  g_autofree char *reason = trammel_row_reason (error->message, &self->bad_row);

  set_result_visible (self, FALSE);
  gtk_widget_set_visible (self->trouble, TRUE);
  trammel_positions_view_show (self->positions, self->session);
  trammel_homing_view_show (self->homing, self->session);
  gtk_label_set_text (self->trouble_text, reason);
  /* What cannot be told apart by the readings alone often can with what is stated. */
  if (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_UNSEPARABLE))
    gtk_expander_set_expanded (self->method_part, TRUE);
  gtk_stack_set_visible_child_name (self->stack, "result");
}

/* Homes tell nothing that a fit could use, but something all the same. FALSE: there are none. */
static gboolean
show_homes_only (TrammelResultPage *self)
{
  if (!trammel_homing_view_show (self->homing, self->session))
    return FALSE;
  set_result_visible (self, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->method_part), FALSE);
  gtk_widget_set_visible (self->nothing_to_fit, TRUE);
  trammel_positions_view_show (self->positions, self->session);
  gtk_stack_set_visible_child_name (self->stack, "result");
  return TRUE;
}

/* Folded away, it is written when it is unfolded. */
static void
show_fit (TrammelResultPage *self, const TrammelAdjustment *adjustment)
{
  if (gtk_expander_get_expanded (self->fit_part))
    trammel_fit_view_show (self->fit, trammel_session_machine (self->session), adjustment);
}

static void
fit_unfolded (TrammelResultPage *self)
{
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  if (adjustment)
    show_fit (self, adjustment);
}

static void
show_result (TrammelResultPage *self, const TrammelAdjustment *adjustment)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);

  set_result_visible (self, TRUE);
  trammel_axis_results_show (self->axes, machine, adjustment);
  trammel_explanations_view_show (self->explanations, machine, adjustment);
  trammel_findings_view_show (self->findings, self->session, adjustment);
  trammel_result_plot_show (self->plot, self->session, adjustment);
  trammel_positions_view_show (self->positions, self->session);
  trammel_homing_view_show (self->homing, self->session);
  trammel_unknowns_view_show (self->unknowns, self->session, adjustment);
  trammel_next_view_show (self->next, self->session, adjustment);
  trammel_budget_view_show (self->budget, self->session, adjustment);
  trammel_trials_view_show (self->trials, self->session, adjustment);
  show_fit (self, adjustment);
  gtk_stack_set_visible_child_name (self->stack, "result");
}

static void
show_adopted (TrammelResultPage *self)
{
  if (self->after_adopting != trammel_session_machine (self->session))
    gtk_info_bar_set_revealed (self->adopted, FALSE);
}

static void
show_all (TrammelResultPage *self)
{
  g_autoptr (GError) error = NULL;

  /* Typing readings must not wait for a page that nobody sees. */
  self->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (self->stale)
    return;
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, &error);
  gboolean busy = trammel_session_is_adjusting (self->session);
  show_adopted (self);
  trammel_method_view_show (self->method, self->session);
  gtk_spinner_set_spinning (self->spinner, busy);
  if (busy)
    show_busy (self);
  else if (adjustment)
    show_result (self, adjustment);
  else if (error)
    show_trouble (self, error);
  else if (!show_homes_only (self))
    show_empty (self);
}

static void
selection_changed (TrammelResultPage *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    {
      self->stale = TRUE;
      return;
    }
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  trammel_homing_view_show (self->homing, self->session);
  if (!adjustment)
    return;
  trammel_result_plot_show_selection (self->plot, adjustment);
  trammel_positions_view_show (self->positions, self->session);
  trammel_trials_view_show_selection (self->trials);
}

static void
opened (TrammelResultPage *self)
{
  trammel_axis_results_reset (self->axes);
  trammel_trials_view_forget (self->trials);
}

/* Adopting */

static char *
adopted_sentence (const TrammelMachine *machine, char letter)
{
  const TrammelAxis *axis = trammel_machine_axis (machine, trammel_machine_axis_index (machine, letter));
  double value = NAN, u = NAN;
  g_autofree char *unit = trammel_sentences_counts_unit (axis);

  trammel_axis_in_force (axis, &value, &u, NULL);
  g_autofree char *number = trammel_display_rounded (value, u);
  return g_strdup_printf (_ ("%c is now %s %s."), letter, number, unit);
}

static void
tell_adopted (TrammelResultPage *self, const char *letters)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  GString *text = g_string_new (NULL);

  for (; *letters; letters++)
    {
      g_autofree char *sentence = adopted_sentence (machine, *letters);
      g_string_append (text, sentence);
      g_string_append_c (text, ' ');
    }
  g_string_append (text, _ ("The readings taken before it moved to the log. Print again to check."));
  gtk_info_bar_set_message_type (self->adopted, GTK_MESSAGE_INFO);
  gtk_label_set_text (self->adopted_text, text->str);
  g_string_free (text, TRUE);
  gtk_info_bar_set_revealed (self->adopted, TRUE);
}

static char *
now_in_utc (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  return g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");
}

/* Takes @adopted over; NULL with @error set: tells why. */
static void
take_adopted (TrammelResultPage *self, TrammelMachine *adopted, const char *letters, const char *what,
              const GError *error)
{
  if (!adopted)
    {
      gtk_info_bar_set_message_type (self->adopted, GTK_MESSAGE_ERROR);
      gtk_label_set_text (self->adopted_text, error->message);
      gtk_info_bar_set_revealed (self->adopted, TRUE);
      return;
    }
  g_clear_pointer (&self->after_adopting, trammel_machine_unref);
  self->after_adopting = trammel_machine_ref (adopted);
  trammel_axis_results_reset (self->axes);
  trammel_session_edit (self->session, adopted, what, NULL);
  tell_adopted (self, letters);
}

static void
adopt (TrammelResultPage *self, const char *letters)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  g_autofree char *time = now_in_utc (), *what = g_strdup_printf (_ ("adopt %s"), letters);
  g_autofree char *kept = g_strdup (letters);
  g_autoptr (GError) error = NULL;

  if (!adjustment)
    return;
  TrammelMachine *adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), letters, time, &error);
  take_adopted (self, adopted, kept, what, error);
}

static void
put_right (TrammelResultPage *self, const TrammelExplanation *explanation)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  const char letters[] = { explanation->letter, '\0' };
  g_autofree char *time = now_in_utc (), *what = g_strdup_printf (_ ("put %s right"), letters);
  g_autoptr (GError) error = NULL;

  if (!adjustment)
    return;
  TrammelMachine *right
      = trammel_machine_put_right (machine, adjustment, trammel_machine_readings (machine), explanation, time, &error);
  take_adopted (self, right, letters, what, error);
}

static void
adopted_answered (TrammelResultPage *self, int response)
{
  gtk_info_bar_set_revealed (self->adopted, FALSE);
  if (response == RESPONSE_UNDO && self->after_adopting == trammel_session_machine (self->session))
    trammel_session_undo (self->session);
}

static void
trammel_result_page_map (GtkWidget *widget)
{
  TrammelResultPage *self = TRAMMEL_RESULT_PAGE (widget);

  GTK_WIDGET_CLASS (trammel_result_page_parent_class)->map (widget);
  if (self->stale)
    show_all (self);
}

static void
trammel_result_page_dispose (GObject *object)
{
  TrammelResultPage *self = TRAMMEL_RESULT_PAGE (object);

  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->after_adopting, trammel_machine_unref);
  G_OBJECT_CLASS (trammel_result_page_parent_class)->dispose (object);
}

static void
trammel_result_page_class_init (TrammelResultPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (TRAMMEL_TYPE_AXIS_RESULTS);
  g_type_ensure (TRAMMEL_TYPE_BUDGET_VIEW);
  g_type_ensure (TRAMMEL_TYPE_COLUMNS);
  g_type_ensure (TRAMMEL_TYPE_EXPLANATIONS_VIEW);
  g_type_ensure (TRAMMEL_TYPE_POSITIONS_VIEW);
  g_type_ensure (TRAMMEL_TYPE_RESULT_PLOT);
  g_type_ensure (TRAMMEL_TYPE_FINDINGS_VIEW);
  g_type_ensure (TRAMMEL_TYPE_FIT_VIEW);
  g_type_ensure (TRAMMEL_TYPE_HOMING_VIEW);
  g_type_ensure (TRAMMEL_TYPE_METHOD_VIEW);
  g_type_ensure (TRAMMEL_TYPE_NEXT_VIEW);
  g_type_ensure (TRAMMEL_TYPE_TRIALS_VIEW);
  g_type_ensure (TRAMMEL_TYPE_UNKNOWNS_VIEW);

  G_OBJECT_CLASS (klass)->dispose = trammel_result_page_dispose;
  widget_class->map = trammel_result_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/result-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, adopted);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, adopted_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, empty_title);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, empty_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, spinner);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, busy_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, axes);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, explanations);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, findings);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, trouble_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, plot);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, nothing_to_fit);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, positions);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, homing);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, unknowns);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, next);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, budget);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, trials);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, fit_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, fit);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, method_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelResultPage, method);
  gtk_widget_class_bind_template_callback (widget_class, adopt);
  gtk_widget_class_bind_template_callback (widget_class, put_right);
  gtk_widget_class_bind_template_callback (widget_class, fit_unfolded);
  gtk_widget_class_bind_template_callback (widget_class, go_to_readings);
  gtk_widget_class_bind_template_callback (widget_class, adopted_answered);
}

static void
trammel_result_page_init (TrammelResultPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->stale = TRUE;
}

GtkWidget *
trammel_result_page_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelResultPage *self = g_object_new (TRAMMEL_TYPE_RESULT_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "adjusted", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (selection_changed), self);
  g_signal_connect_swapped (session, "opened", G_CALLBACK (opened), self);
  return GTK_WIDGET (self);
}
