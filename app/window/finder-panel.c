/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/finder-panel.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "draw/sentences.h"
#include "machine/gear-bin.h"
#include "window/field-editor.h"
#include "window/finder-job.h"
#include "window/finder-row.h"
#include "window/rewrite.h"

#define MOST_ROWS 20
#define POLL_MILLISECONDS 100

/* The rows of the drop-down, in order. */
typedef enum
{
  WANTED_RATIO,
  WANTED_COUNTS,
  WANTED_TRAVEL,
} Wanted;

struct _TrammelFinderPanel
{
  GtkWidget parent_instance;

  TrammelSession *session;
  TrammelFinderJob *job;       /* the search that goes on; NULL: none */
  TrammelFinderResult *result; /* of the last one; NULL: none yet */
  TrammelExact target;         /* that it was made for */
  TrammelHoleGrid grid;        /* pitch 0: shafts anywhere */
  double tolerance;
  char *saved_bin;
  guint poll;
  gboolean stale;
  gboolean has_searched;

  GtkWidget *root;
  GtkEditable *gears;
  GtkDropDown *wanted;
  GtkEditable *target_entry;
  GtkLabel *target_meaning;
  GtkSpinButton *pairs;
  GtkEditable *tolerance_entry;
  GtkDropDown *direction;
  GtkDropDown *order;
  GtkBox *plate;
  GtkWidget *pitch;
  GtkWidget *half;
  GtkCheckButton *on_plate;
  GtkCheckButton *unbeaten;
  GtkLabel *trouble;
  GtkWidget *find;
  GtkWidget *stop;
  GtkProgressBar *progress;
  GtkLabel *status;
  GtkBox *rows;
};

G_DEFINE_FINAL_TYPE (TrammelFinderPanel, trammel_finder_panel, GTK_TYPE_WIDGET)

static const TrammelAxis *
selected_axis (TrammelFinderPanel *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  int i = trammel_session_selected_axis (self->session);
  return i >= 0 && (gsize)i < trammel_machine_n_axes (machine) ? trammel_machine_axis (machine, (gsize)i) : NULL;
}

static const TrammelUnit *
display_unit (TrammelFinderPanel *self)
{
  return trammel_machine_display_unit (trammel_session_machine (self->session));
}

static gboolean
is_blank (GtkEditable *entry)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (entry)));
  return text[0] == '\0';
}

/* Counts per unit that were typed, or that a typed travel per count comes to. */
static gboolean
typed_counts (TrammelFinderPanel *self, const TrammelAxis *axis, TrammelExact *out, GError **error)
{
  const char *text = gtk_editable_get_text (self->target_entry);
  TrammelQuantity travel;
  if (gtk_drop_down_get_selected (self->wanted) == WANTED_COUNTS)
    return trammel_exact_parse (text, out, error);
  if (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY)
    return trammel_exact_parse (text, out, error) && trammel_exact_divide (TRAMMEL_EXACT_ONE, *out, out, error);
  return trammel_quantity_parse (text, TRAMMEL_DIMENSION_LENGTH, display_unit (self), &travel, error)
         && trammel_quantity_base (travel, out, error) && trammel_exact_divide (TRAMMEL_EXACT_ONE, *out, out, error);
}

static gboolean
typed_target (TrammelFinderPanel *self, TrammelExact *out, GError **error)
{
  const TrammelAxis *axis = selected_axis (self);
  TrammelExact counts;
  if (gtk_drop_down_get_selected (self->wanted) == WANTED_RATIO)
    return trammel_exact_parse (gtk_editable_get_text (self->target_entry), out, error);
  if (!axis)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT, _ ("an axis is wanted first"));
      return FALSE;
    }
  return typed_counts (self, axis, &counts, error)
         && trammel_finder_target (trammel_axis_train (axis), counts, out, error);
}

/* What @target means for the axis, the other way round than it was typed. */
static char *
meaning_of_target (TrammelFinderPanel *self, TrammelExact target)
{
  const TrammelAxis *axis = selected_axis (self);
  const char *sign = trammel_display_decimal_sign ();
  TrammelExact per_count, counts;

  if (gtk_drop_down_get_selected (self->wanted) != WANTED_RATIO)
    {
      g_autofree char *ratio = trammel_exact_to_display (target, sign);
      return g_strdup_printf (_ ("That takes %s turns in for one turn out."), ratio);
    }
  if (!axis || !trammel_finder_target (trammel_axis_train (axis), TRAMMEL_EXACT_ONE, &per_count, NULL)
      || !trammel_exact_divide (target, per_count, &counts, NULL))
    return NULL;
  g_autofree char *number = trammel_exact_to_display (counts, sign);
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  return g_strdup_printf (_ ("Gives %c %s %s."), trammel_axis_letter (axis), number, unit);
}

static void
show_target (TrammelFinderPanel *self)
{
  TrammelExact target;
  g_autofree char *meaning = NULL;
  if (!is_blank (self->target_entry) && typed_target (self, &target, NULL) && trammel_exact_sign (target) > 0)
    meaning = meaning_of_target (self, target);
  trammel_rewrite_label (self->target_meaning,
                         meaning ? meaning : _ ("The product of driven over driver, exact: 25/3, 2.5, 127/100."));
}

/* Marks @entry (NULL: none), and says why. */
static void
show_trouble (TrammelFinderPanel *self, GtkEditable *entry, const char *reason)
{
  GtkEditable *const entries[] = { self->gears, self->target_entry, self->tolerance_entry };
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    trammel_rewrite_refused (GTK_WIDGET (entries[i]), entries[i] == entry);
  trammel_rewrite_label (self->trouble, reason);
  gtk_widget_set_visible (GTK_WIDGET (self->trouble), reason != NULL);
}

static const TrammelRecord *
plate_of_machine (TrammelFinderPanel *self)
{
  return trammel_machine_plate (trammel_session_machine (self->session));
}

/* That of the machine's plate, where it is to be looked at. */
static TrammelHoleGrid
grid_to_use (TrammelFinderPanel *self)
{
  return gtk_check_button_get_active (self->on_plate) ? trammel_plate_grid (plate_of_machine (self))
                                                      : (TrammelHoleGrid){ 0 };
}

/* What was typed, as a query; FALSE where something cannot be read, which is shown then. */
static gboolean
read_form (TrammelFinderPanel *self, TrammelFinderQuery *query, TrammelHoleGrid *grid, TrammelGears **gears)
{
  g_autoptr (TrammelGears) bin = NULL;
  g_autoptr (GError) error = NULL;
  GtkEditable *at_fault = NULL;
  TrammelExact target = TRAMMEL_EXACT_ZERO;
  double tolerance = 0;

  *grid = grid_to_use (self);
  bin = trammel_gears_parse (gtk_editable_get_text (self->gears), &error);
  if (!bin)
    at_fault = self->gears;
  else if (!typed_target (self, &target, &error))
    at_fault = self->target_entry;
  else if (!trammel_quantity_parse_value (gtk_editable_get_text (self->tolerance_entry), TRAMMEL_DIMENSION_NUMBER, NULL,
                                          &tolerance, &error))
    at_fault = self->tolerance_entry;
  if (at_fault)
    {
      show_trouble (self, at_fault, error->message);
      return FALSE;
    }
  if (trammel_exact_sign (target) <= 0)
    {
      show_trouble (self, self->target_entry, _ ("More than 0 is wanted."));
      return FALSE;
    }
  if (!(tolerance >= 0))
    {
      show_trouble (self, self->tolerance_entry, _ ("0 or more is wanted."));
      return FALSE;
    }
  *query = trammel_finder_query (target);
  query->tolerance = tolerance;
  query->list = MOST_ROWS;
  query->most_pairs = gtk_spin_button_get_value_as_int (self->pairs);
  query->direction = (TrammelFinderDirection)gtk_drop_down_get_selected (self->direction);
  query->order = (TrammelFinderOrder)gtk_drop_down_get_selected (self->order);
  query->unbeaten = gtk_check_button_get_active (self->unbeaten);
  *gears = g_steal_pointer (&bin);
  show_trouble (self, NULL, NULL);
  return TRUE;
}

static void
save_bin (TrammelFinderPanel *self)
{
  const char *text = gtk_editable_get_text (self->gears);
  g_autoptr (GError) error = NULL;
  if (g_strcmp0 (text, self->saved_bin) == 0)
    return;
  if (!trammel_gear_bin_save (text, &error))
    {
      show_trouble (self, NULL, error->message);
      return;
    }
  g_free (self->saved_bin);
  self->saved_bin = g_strdup (text);
}

static void
use_train (TrammelFinderPanel *self, const TrammelFinderTrain *found)
{
  const TrammelAxis *axis = selected_axis (self);
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelTrain) train = axis ? trammel_finder_apply (trammel_axis_train (axis), found,
                                                                self->grid.pitch > 0 ? &self->grid : NULL, &error)
                                        : NULL;
  int i = trammel_session_selected_axis (self->session);
  if (!train)
    {
      show_trouble (self, NULL, error ? error->message : NULL);
      return;
    }
  trammel_session_edit (self->session,
                        trammel_machine_with_train (trammel_session_machine (self->session), (gsize)i, train),
                        _ ("use the gears found"), NULL);
}

/* As many rows as @n, made or taken away at the end. */
static void
match_number_of_rows (TrammelFinderPanel *self, gsize n)
{
  GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->rows));
  for (gsize i = 0; i < n; i++)
    {
      if (!row)
        {
          row = trammel_finder_row_new ();
          g_signal_connect_object (row, "use", G_CALLBACK (use_train), self, G_CONNECT_SWAPPED);
          gtk_box_append (self->rows, row);
        }
      row = gtk_widget_get_next_sibling (row);
    }
  while (row)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (row);
      gtk_box_remove (self->rows, row);
      row = next;
    }
}

static void
show_rows (TrammelFinderPanel *self)
{
  const TrammelFinderTrain *trains = self->result->has_nearest ? &self->result->nearest : self->result->trains;
  gsize n = self->result->has_nearest ? 1 : self->result->n;
  const TrammelAxis *axis = selected_axis (self);
  GtkWidget *row;

  match_number_of_rows (self, n);
  row = gtk_widget_get_first_child (GTK_WIDGET (self->rows));
  for (gsize i = 0; i < n; i++, row = gtk_widget_get_next_sibling (row))
    trammel_finder_row_show (TRAMMEL_FINDER_ROW (row), &trains[i], self->grid, axis, display_unit (self));
}

static char *
status_text (TrammelFinderPanel *self)
{
  g_autofree char *ratio = trammel_exact_to_display (self->target, trammel_display_decimal_sign ());
  g_autofree char *within = trammel_display_significant (self->tolerance * 100, 3);
  g_autofree char *searched = g_strdup_printf ("%'" G_GUINT64_FORMAT, self->result->searched);
  guint n = (guint)self->result->n;

  if (n == 0 && !self->result->has_nearest)
    return g_strdup (_ ("No train can be built of these gears as asked."));
  if (n == 0)
    return g_strdup_printf (_ ("None of %s trains is within %s %% of %s. The nearest:"), searched, within, ratio);
  if (n == MOST_ROWS)
    return g_strdup_printf (_ ("The best %u of %s trains for %s:"), n, searched, ratio);
  return g_strdup_printf (
      ngettext ("%u of %s trains is within %s %% of %s:", "%u of %s trains are within %s %% of %s:", n), n, searched,
      within, ratio);
}

static void
show_result (TrammelFinderPanel *self)
{
  TrammelExact target;
  if (!self->result)
    return;
  show_rows (self);
  g_autofree char *text = status_text (self);
  if (!self->job && typed_target (self, &target, NULL) && !trammel_exact_equal (target, self->target))
    {
      g_autofree char *now = trammel_exact_to_display (target, trammel_display_decimal_sign ());
      g_autofree char *both = g_strdup_printf (_ ("%s\nNow %s is wanted: find again."), text, now);
      trammel_rewrite_label (self->status, both);
      return;
    }
  trammel_rewrite_label (self->status, text);
}

static void
show_searching (TrammelFinderPanel *self, gboolean searching)
{
  gtk_widget_set_visible (self->stop, searching);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), searching);
}

/* A search that is over at once shows no progress. */
static gboolean
look_at_progress (gpointer data)
{
  TrammelFinderPanel *self = TRAMMEL_FINDER_PANEL (data);
  show_searching (self, TRUE);
  gtk_progress_bar_set_fraction (self->progress, trammel_finder_job_part (self->job));
  return G_SOURCE_CONTINUE;
}

static void
end_search (TrammelFinderPanel *self)
{
  g_clear_handle_id (&self->poll, g_source_remove);
  g_clear_pointer (&self->job, trammel_finder_job_unref);
}

static void
stop_search (TrammelFinderPanel *self)
{
  if (self->job)
    trammel_finder_job_cancel (self->job);
  end_search (self);
  if (self->root)
    show_searching (self, FALSE);
}

static void
search_done (GObject *source, GAsyncResult *async, gpointer data)
{
  TrammelFinderPanel *self = TRAMMEL_FINDER_PANEL (source);
  g_autoptr (GError) error = NULL;
  TrammelFinderJob *job = trammel_finder_job_of_result (async);
  TrammelFinderResult *result = trammel_finder_job_finish (async, &error);
  const TrammelFinderQuery *query = trammel_finder_job_query (job);

  if (job != self->job) /* another one goes on, or none is wanted any more */
    {
      g_clear_pointer (&result, trammel_finder_result_free);
      return;
    }
  self->target = query->target;
  self->tolerance = query->tolerance;
  self->grid = trammel_finder_job_grid (job);
  end_search (self);
  show_searching (self, FALSE);
  if (!result)
    {
      show_trouble (self, NULL, error->message);
      return;
    }
  g_clear_pointer (&self->result, trammel_finder_result_free);
  self->result = result;
  show_result (self);
}

static void
find_gears (TrammelFinderPanel *self)
{
  g_autoptr (TrammelGears) gears = NULL;
  TrammelFinderQuery query;
  TrammelHoleGrid grid;

  stop_search (self);
  if (!read_form (self, &query, &grid, &gears))
    return;
  save_bin (self);
  self->has_searched = TRUE;
  self->job = trammel_finder_job_start (gears, &query, grid, self, search_done);
  self->poll = g_timeout_add (POLL_MILLISECONDS, look_at_progress, self);
}

/* Another wish, by a choice that is complete at once. */
static void
choice_changed (TrammelFinderPanel *self)
{
  if (self->session && self->has_searched && !is_blank (self->target_entry))
    find_gears (self);
}

static void
plate_edited (GtkWidget *editor, const TrammelRecord *plate, TrammelFinderPanel *self)
{
  trammel_session_edit (self->session, trammel_machine_with_plate (trammel_session_machine (self->session), plate),
                        _ ("change the plate"), NULL);
  choice_changed (self);
}

static GtkWidget *
add_plate_editor (TrammelFinderPanel *self, const char *key)
{
  GtkWidget *editor = trammel_field_editor_new (trammel_record_kind_field (trammel_plate_kind (), key), NULL);
  g_signal_connect (editor, "edited", G_CALLBACK (plate_edited), self);
  gtk_widget_set_valign (editor, GTK_ALIGN_CENTER);
  gtk_box_append (self->plate, editor);
  return editor;
}

static void
target_changed (TrammelFinderPanel *self)
{
  if (!self->session)
    return;
  show_trouble (self, NULL, NULL);
  show_target (self);
}

static void
wanted_changed (TrammelFinderPanel *self)
{
  static const char *const examples[] = { "25/3", "80", "0.0125" };
  guint chosen = gtk_drop_down_get_selected (self->wanted);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->target_entry), chosen < 3 ? examples[chosen] : NULL);
  if (self->session)
    target_changed (self);
}

/* A table counts in degrees. */
static void
show_units (TrammelFinderPanel *self)
{
  const TrammelAxis *axis = selected_axis (self);
  gboolean rotary = axis && trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY;
  GtkStringList *choices = GTK_STRING_LIST (gtk_drop_down_get_model (self->wanted));
  const char *counts = rotary ? _ ("Counts per degree") : _ ("Counts per mm");
  const char *const now[] = { counts, NULL };
  guint chosen = gtk_drop_down_get_selected (self->wanted);
  if (g_strcmp0 (gtk_string_list_get_string (choices, WANTED_COUNTS), counts) == 0)
    return;
  gtk_string_list_splice (choices, WANTED_COUNTS, 1, now);
  gtk_drop_down_set_selected (self->wanted, chosen);
}

static void
show_plate (TrammelFinderPanel *self)
{
  const TrammelRecord *plate = plate_of_machine (self);
  trammel_field_editor_show (TRAMMEL_FIELD_EDITOR (self->pitch), plate, display_unit (self));
  trammel_field_editor_show (TRAMMEL_FIELD_EDITOR (self->half), plate, NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->on_plate), trammel_plate_grid (plate).pitch > 0);
}

static void
show_all (TrammelFinderPanel *self)
{
  self->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (self->stale)
    return;
  show_units (self);
  show_target (self);
  show_plate (self);
  show_result (self);
}

static void
trammel_finder_panel_map (GtkWidget *widget)
{
  TrammelFinderPanel *self = TRAMMEL_FINDER_PANEL (widget);

  GTK_WIDGET_CLASS (trammel_finder_panel_parent_class)->map (widget);
  if (self->stale)
    show_all (self);
}

static void
trammel_finder_panel_dispose (GObject *object)
{
  TrammelFinderPanel *self = TRAMMEL_FINDER_PANEL (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  stop_search (self);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->result, trammel_finder_result_free);
  g_clear_pointer (&self->saved_bin, g_free);
  G_OBJECT_CLASS (trammel_finder_panel_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, gears);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, wanted);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, target_entry);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, target_meaning);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, pairs);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, tolerance_entry);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, direction);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, order);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, plate);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, on_plate);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, unbeaten);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, find);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, stop);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, progress);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, status);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderPanel, rows);
}

static void
trammel_finder_panel_class_init (TrammelFinderPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_finder_panel_dispose;
  widget_class->map = trammel_finder_panel_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/finder-panel.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, find_gears);
  gtk_widget_class_bind_template_callback (widget_class, stop_search);
  gtk_widget_class_bind_template_callback (widget_class, choice_changed);
  gtk_widget_class_bind_template_callback (widget_class, wanted_changed);
  gtk_widget_class_bind_template_callback (widget_class, target_changed);
}

static void
trammel_finder_panel_init (TrammelFinderPanel *self)
{
  g_autofree char *tolerance = trammel_display_number (0.2, 1);
  g_autofree char *percent = g_strconcat (tolerance, " %", NULL);
  g_autoptr (GError) error = NULL;

  gtk_widget_init_template (GTK_WIDGET (self));
  self->pitch = add_plate_editor (self, "pitch");
  self->half = add_plate_editor (self, "half");
  gtk_editable_set_text (self->tolerance_entry, percent);
  wanted_changed (self);
  self->saved_bin = trammel_gear_bin_load (&error);
  if (self->saved_bin)
    gtk_editable_set_text (self->gears, self->saved_bin);
  else
    show_trouble (self, NULL, error->message);
  self->stale = TRUE;
}

GtkWidget *
trammel_finder_panel_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelFinderPanel *self = g_object_new (TRAMMEL_TYPE_FINDER_PANEL, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (show_all), self);
  return GTK_WIDGET (self);
}
