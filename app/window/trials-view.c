/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/trials-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "draw/trial-histogram.h"
#include "draw/trial-sentences.h"
#include "window/appearance.h"
#include "window/rewrite.h"
#include "window/sentence-lines.h"
#include "window/trials-job.h"

#define POLL_MILLISECONDS 100
#define STALE_OPACITY 0.55

struct _TrammelTrialsView
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelTrialsJob *job; /* that goes on; NULL: none */
  GArray *axes;          /* of TrammelMonteCarloAxis: what the last one found; NULL: none yet */
  gsize trials;          /* that it was made of */
  guint64 seed;
  guint poll;

  GtkWidget *root;
  GtkEditable *number;
  GtkEditable *seed_entry;
  GtkButton *act;
  GtkProgressBar *progress;
  GtkLabel *trouble;
  GtkLabel *status;
  GtkWidget *found;
  GtkBox *sentences;
  GtkDrawingArea *picture;
  GtkLabel *criterion;
};

G_DEFINE_FINAL_TYPE (TrammelTrialsView, trammel_trials_view, GTK_TYPE_WIDGET)

/* What was found */

static const TrammelMonteCarloAxis *
axis_at (TrammelTrialsView *self, guint i)
{
  return &g_array_index (self->axes, TrammelMonteCarloAxis, i);
}

/* The axis that is selected, where there are trials of it; else the first. NULL: there are none. */
static const TrammelMonteCarloAxis *
shown_axis (TrammelTrialsView *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const int selected = trammel_session_selected_axis (self->session);
  const char letter = selected >= 0 ? trammel_axis_letter (trammel_machine_axis (machine, (gsize)selected)) : '\0';

  for (guint i = 0; self->axes && i < self->axes->len; i++)
    if (axis_at (self, i)->letter == letter)
      return axis_at (self, i);
  return self->axes && self->axes->len > 0 ? axis_at (self, 0) : NULL;
}

/* By the figures: a fit that is undone and made anew is the same again. */
static gboolean
is_of_fit (TrammelTrialsView *self, const TrammelAdjustment *adjustment)
{
  guint n = 0;
  gsize n_parameters;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n_parameters);

  for (gsize i = 0; i < n_parameters; i++)
    n += parameters[i].kind == TRAMMEL_PARAMETER_SCALE;
  if (n != self->axes->len)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      const TrammelMonteCarloAxis *trials = axis_at (self, i);
      const TrammelAxisScale *fit = trammel_adjustment_axis (adjustment, trials->letter);
      if (!fit || fit->scale_error != trials->linear_value || fit->low != trials->linear_low
          || fit->high != trials->linear_high)
        return FALSE;
    }
  return TRUE;
}

static void
draw_picture (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelTrialsView *self = data;
  const TrammelTrialHistogram histogram = { shown_axis (self), NULL };

  if (histogram.axis)
    trammel_trial_histogram_paint (&histogram, cr, width, height,
                                   trammel_palette (trammel_window_is_dark (GTK_WIDGET (area))));
}

static void
show_axis (TrammelTrialsView *self)
{
  const TrammelTrialHistogram histogram = { shown_axis (self), NULL };

  if (!histogram.axis)
    return;
  g_autofree char *words = trammel_trial_histogram_to_words (&histogram);
  g_autofree char *criterion = trammel_sentences_trials_criterion (histogram.axis);
  g_autofree char *name = g_strdup_printf (_ ("Histogram of the trials of %c"), histogram.axis->letter);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self->picture));
  trammel_rewrite_label (self->criterion, criterion);
}

static void
show_status (TrammelTrialsView *self, gboolean stale)
{
  g_autofree char *trials = g_strdup_printf ("%'" G_GSIZE_FORMAT, self->trials);
  /* translators: how many, then a number */
  g_autofree char *made = g_strdup_printf (_ ("%s trials from seed %u."), trials, (guint)self->seed);
  g_autofree char *text
      = stale ? g_strdup_printf (_ ("%s They are of readings or settings of before: start them again."), made)
              : g_steal_pointer (&made);

  trammel_rewrite_label (self->status, text);
  trammel_rewrite_classes (GTK_WIDGET (self->status),
                           stale ? (const char *[]){ "caution", NULL } : (const char *[]){ NULL });
  gtk_widget_set_visible (GTK_WIDGET (self->status), TRUE);
  gtk_widget_set_opacity (self->found, stale ? STALE_OPACITY : 1);
}

static void
show_found (TrammelTrialsView *self, const TrammelAdjustment *adjustment)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < self->axes->len; i++)
    g_ptr_array_add (sentences, trammel_sentences_trials (axis_at (self, i)));
  trammel_sentence_lines_show (self->sentences, sentences, NULL);
  show_axis (self);
  show_status (self, !is_of_fit (self, adjustment));
  gtk_widget_set_visible (self->found, TRUE);
}

/* Marks @entry (NULL: none), and says why. */
static void
show_trouble (TrammelTrialsView *self, GtkEditable *entry, const char *reason)
{
  trammel_rewrite_refused (GTK_WIDGET (self->number), entry == self->number);
  trammel_rewrite_refused (GTK_WIDGET (self->seed_entry), entry == self->seed_entry);
  trammel_rewrite_label (self->trouble, reason);
  gtk_widget_set_visible (GTK_WIDGET (self->trouble), reason != NULL);
}

/* Making them */

static void
show_running (TrammelTrialsView *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->progress), self->job != NULL);
  gtk_progress_bar_set_fraction (self->progress, self->job ? trammel_trials_job_part (self->job) : 0);
  trammel_rewrite_button (self->act, self->job ? _ ("Stop") : _ ("Start the trials"));
}

static gboolean
look_at_progress (gpointer data)
{
  show_running (data);
  return G_SOURCE_CONTINUE;
}

static void
end_job (TrammelTrialsView *self)
{
  g_clear_handle_id (&self->poll, g_source_remove);
  g_clear_pointer (&self->job, trammel_trials_job_unref);
  if (self->root)
    show_running (self);
}

static void
stop (TrammelTrialsView *self)
{
  if (self->job)
    trammel_trials_job_cancel (self->job);
  end_job (self);
}

static void
trials_made (GObject *source, GAsyncResult *async, gpointer data)
{
  TrammelTrialsView *self = TRAMMEL_TRIALS_VIEW (source);
  g_autoptr (GError) error = NULL;
  TrammelTrialsJob *job = trammel_trials_job_of_result (async);
  g_autoptr (GArray) axes = trammel_trials_job_finish (async, &error);

  if (job != self->job) /* none is wanted any more, or another one */
    return;
  self->trials = axes ? trammel_trials_job_trials (job) : self->trials;
  self->seed = axes ? trammel_trials_job_seed (job) : self->seed;
  end_job (self);
  show_trouble (self, NULL, axes ? NULL : error->message);
  if (!axes)
    return;
  g_clear_pointer (&self->axes, g_array_unref);
  self->axes = g_steal_pointer (&axes);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  if (adjustment)
    show_found (self, adjustment);
}

/* A whole number from @least to @most; FALSE where there is none, which is shown then. */
static gboolean
read_whole (TrammelTrialsView *self, GtkEditable *entry, double least, double most, double *out)
{
  const char *text = gtk_editable_get_text (entry);

  if (trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_NUMBER, NULL, out, NULL) && *out >= least && *out <= most
      && *out == floor (*out))
    return TRUE;
  g_autofree char *lowest = trammel_display_number (least, 0), *highest = trammel_display_number (most, 0);
  g_autofree char *reason
      = g_strdup_printf (_ ("Found “%s”; a whole number from %s to %s is wanted."), text, lowest, highest);
  show_trouble (self, entry, reason);
  return FALSE;
}

static void
start (TrammelTrialsView *self)
{
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  const TrammelAdjustOptions how
      = { .scatter = trammel_session_scatter (self->session), .robust = trammel_session_robust (self->session) };

  double trials, seed;

  stop (self);
  if (!adjustment
      || !read_whole (self, self->number, TRAMMEL_MONTE_CARLO_FEWEST_TRIALS, TRAMMEL_MONTE_CARLO_MOST_TRIALS, &trials)
      || !read_whole (self, self->seed_entry, 0, G_MAXUINT32, &seed))
    return;
  show_trouble (self, NULL, NULL);
  self->job = trammel_trials_job_start (trammel_session_machine (self->session), adjustment, &how, (gsize)trials,
                                        (guint64)seed, self, trials_made);
  self->poll = g_timeout_add (POLL_MILLISECONDS, look_at_progress, self);
  show_running (self);
}

static void
start_or_stop (TrammelTrialsView *self)
{
  if (self->job)
    stop (self);
  else
    start (self);
}

void
trammel_trials_view_show (TrammelTrialsView *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_TRIALS_VIEW (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  g_set_object (&self->session, session);
  show_trouble (self, NULL, NULL);
  if (self->axes)
    show_found (self, adjustment);
}

void
trammel_trials_view_show_selection (TrammelTrialsView *self)
{
  g_return_if_fail (TRAMMEL_IS_TRIALS_VIEW (self) && self->session != NULL);

  show_axis (self);
}

void
trammel_trials_view_forget (TrammelTrialsView *self)
{
  g_return_if_fail (TRAMMEL_IS_TRIALS_VIEW (self));

  stop (self);
  show_trouble (self, NULL, NULL);
  g_clear_pointer (&self->axes, g_array_unref);
  gtk_widget_set_visible (GTK_WIDGET (self->status), FALSE);
  gtk_widget_set_visible (self->found, FALSE);
}

static void
trammel_trials_view_dispose (GObject *object)
{
  TrammelTrialsView *self = TRAMMEL_TRIALS_VIEW (object);

  g_clear_pointer (&self->root, gtk_widget_unparent);
  stop (self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->axes, g_array_unref);
  G_OBJECT_CLASS (trammel_trials_view_parent_class)->dispose (object);
}

static void
trammel_trials_view_class_init (TrammelTrialsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_trials_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "trials");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/trials-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, number);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, seed_entry);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, act);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, progress);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, status);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, found);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, picture);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrialsView, criterion);
  gtk_widget_class_bind_template_callback (widget_class, start);
  gtk_widget_class_bind_template_callback (widget_class, start_or_stop);
}

static void
trammel_trials_view_init (TrammelTrialsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_autofree char *usual = trammel_display_number (TRAMMEL_MONTE_CARLO_TRIALS, 0);

  gtk_editable_set_text (self->number, usual);
  gtk_drawing_area_set_draw_func (self->picture, draw_picture, self, NULL);
}
