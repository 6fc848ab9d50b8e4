/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/position-entry.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "machine/position-list.h"
#include "window/rewrite.h"

struct _TrammelPositionEntry
{
  GtkWidget parent_instance;

  TrammelSession *session;
  gboolean filling;

  GtkWidget *root;
  GtkTextView *list;
  GtkDropDown *axis;
  GtkDropDown *values;
  GtkDropDown *passes;
  GtkDropDown *instrument;
  GtkEditable *set;
  GtkLabel *answer;
  GtkWidget *add;
  GtkEditable *from;
  GtkEditable *to;
  GtkEditable *n_targets;
  GtkEditable *n_runs;
  GtkCheckButton *both_ways;
  GtkLabel *plan_answer;
  GtkWidget *make;
};

G_DEFINE_FINAL_TYPE (TrammelPositionEntry, trammel_position_entry, GTK_TYPE_WIDGET)

enum
{
  DONE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static const TrammelMachine *
machine_of (TrammelPositionEntry *self)
{
  return trammel_session_machine (self->session);
}

static const TrammelAxis *
chosen_axis (TrammelPositionEntry *self)
{
  const guint i = gtk_drop_down_get_selected (self->axis);
  return i < trammel_machine_n_axes (machine_of (self)) ? trammel_machine_axis (machine_of (self), i) : NULL;
}

/* "" where none is chosen. */
static const char *
chosen_instrument (TrammelPositionEntry *self)
{
  gsize n;
  const TrammelInstrument *instruments = trammel_machine_instruments (machine_of (self), &n);
  const guint chosen = gtk_drop_down_get_selected (self->instrument);
  return chosen >= 1 && chosen <= n ? instruments[chosen - 1].name : "";
}

/* What the axis is measured in; NULL: degrees. */
static const TrammelUnit *
unit_of (TrammelPositionEntry *self, const TrammelAxis *axis)
{
  return trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? NULL : trammel_machine_display_unit (machine_of (self));
}

static char *
place_text (TrammelPositionEntry *self, const TrammelAxis *axis, double place)
{
  const TrammelUnit *unit = unit_of (self, axis);
  g_autofree char *number = trammel_display_significant (unit ? place / trammel_unit_factor (unit) : place, 6);
  return unit ? g_strdup_printf ("%s\u00a0%s", number, trammel_unit_symbol (unit)) : g_strdup_printf ("%s°", number);
}

/* @trouble: what is wrong with it, else what it is; the button goes with it. */
static void
tell (GtkLabel *label, GtkWidget *button, const char *text, gboolean trouble, gboolean usable)
{
  trammel_rewrite_label (label, text);
  trammel_rewrite_classes (GTK_WIDGET (label), (const char *[]){ trouble ? "trouble" : "", NULL });
  gtk_widget_set_sensitive (button, usable);
}

/* The list */

static char *
list_text (TrammelPositionEntry *self)
{
  GtkTextIter start, end;
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->list);
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static gboolean
read_list (TrammelPositionEntry *self, TrammelPositionList *out, GError **error)
{
  const TrammelAxis *axis = chosen_axis (self);
  g_autofree char *text = list_text (self);
  if (!axis)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND, _ ("Add an axis first."));
      return FALSE;
    }
  const TrammelPositionListOptions options = {
    .letter = trammel_axis_letter (axis),
    .rotary = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY,
    .unit = trammel_machine_display_unit (machine_of (self)),
    .values = (TrammelListValues)gtk_drop_down_get_selected (self->values),
    .passes = (TrammelListPasses)gtk_drop_down_get_selected (self->passes),
    .set = gtk_editable_get_text (self->set),
    .instrument = chosen_instrument (self),
  };
  return trammel_position_list_read (text, &options, out, error);
}

static char *
words_of_passes (const TrammelPositionList *list)
{
  if (list->n_unsaid > 0 && list->n_up + list->n_down == 0)
    return g_strdup (_ ("nothing tells from which side they were approached"));
  if (list->n_down == 0)
    return g_strdup (_ ("all approached moving up"));
  if (list->n_up == 0)
    return g_strdup (_ ("all approached moving down"));
  return g_strdup_printf (_ ("%d approached moving up, %d moving down"), (int)list->n_up, (int)list->n_down);
}

static const char *
words_of_values (TrammelListValues values)
{
  if (values == TRAMMEL_LIST_VALUES_DEVIATIONS)
    return _ ("The values are deviations from the targets.");
  if (values == TRAMMEL_LIST_VALUES_FALLING)
    return _ ("The values fall while the targets rise: the instrument counts the other way, and they are taken with "
              "the other sign. (If the axis really runs backward, choose “places”.)");
  return _ ("The values are places.");
}

static char *
words_of_list (TrammelPositionEntry *self, const TrammelPositionList *list)
{
  const TrammelAxis *axis = chosen_axis (self);
  const gsize n = trammel_readings_length (list->readings);
  g_autofree char *low = place_text (self, axis, list->low), *high = place_text (self, axis, list->high);
  g_autofree char *readings = g_strdup_printf (ngettext ("%d reading", "%d readings", n), (int)n);
  g_autofree char *targets
      = g_strdup_printf (ngettext ("%d target", "%d targets", list->n_targets), (int)list->n_targets);
  g_autofree char *runs = g_strdup_printf (ngettext ("%d run", "%d runs", list->n_runs), list->n_runs);
  g_autofree char *passes = words_of_passes (list);
  g_autofree char *least = place_text (self, axis, list->least_deviation);
  g_autofree char *greatest = place_text (self, axis, list->greatest_deviation);
  /* Translators: 66 readings at 11 targets from 0 mm to 100 mm, 3 runs; 33 approached moving up, 33 moving down. The
   * values are places. They lie −0.02 mm to 0.31 mm from the targets. */
  return g_strdup_printf (_ ("%s at %s from %s to %s, %s; %s. %s They lie %s to %s from the targets."), readings,
                          targets, low, high, runs, passes, words_of_values (list->values), least, greatest);
}

static void
show_what_is_found (TrammelPositionEntry *self)
{
  g_autoptr (GError) error = NULL;
  g_auto (TrammelPositionList) list = { NULL };
  g_autofree char *text = self->session && !self->filling ? g_strstrip (list_text (self)) : NULL;
  if (!text)
    return;
  if (*text == '\0')
    tell (self->answer, self->add, _ ("Paste or type the list."), FALSE, FALSE);
  else if (read_list (self, &list, &error))
    {
      g_autofree char *words = words_of_list (self, &list);
      tell (self->answer, self->add, words, FALSE, TRUE);
    }
  else
    tell (self->answer, self->add, error->message, TRUE, FALSE);
}

/* The plan */

typedef struct
{
  double from, to;
  int n_targets, n_runs;
} Plan;

static gboolean
read_place (TrammelPositionEntry *self, const TrammelAxis *axis, GtkEditable *field, double *out, GError **error)
{
  const TrammelUnit *unit = unit_of (self, axis);
  const char *text = gtk_editable_get_text (field);
  if (unit)
    return trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit, out, error);
  if (!trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_ANGLE, NULL, out, error))
    return FALSE;
  *out *= 180 / G_PI;
  return TRUE;
}

static gboolean
read_count (GtkEditable *field, int least, const char *what, int *out, GError **error)
{
  gint64 value;
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (field)));
  if (!g_ascii_string_to_signed (text, 10, least, 10000, &value, NULL))
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                   _ ("%s: found “%s”; a number from %d to 10000 is wanted"), what, text, least);
      return FALSE;
    }
  *out = (int)value;
  return TRUE;
}

static gboolean
read_plan (TrammelPositionEntry *self, Plan *out, GError **error)
{
  const TrammelAxis *axis = chosen_axis (self);
  if (!axis)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND, _ ("Add an axis first."));
      return FALSE;
    }
  if (!read_place (self, axis, self->from, &out->from, error) || !read_place (self, axis, self->to, &out->to, error)
      || !read_count (self->n_targets, 2, _ ("Targets"), &out->n_targets, error)
      || !read_count (self->n_runs, 1, _ ("Runs"), &out->n_runs, error))
    return FALSE;
  if (out->to > out->from)
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, _ ("The last target must lie above the first."));
  return FALSE;
}

static TrammelReadings *
rows_of_plan (TrammelPositionEntry *self, const Plan *plan)
{
  return trammel_position_plan (trammel_axis_letter (chosen_axis (self)), plan->from, plan->to, (gsize)plan->n_targets,
                                plan->n_runs, gtk_check_button_get_active (self->both_ways),
                                gtk_editable_get_text (self->set), chosen_instrument (self));
}

static void
show_plan (TrammelPositionEntry *self)
{
  Plan plan;
  g_autoptr (GError) error = NULL;
  if (!self->session || self->filling)
    return;
  if (!read_plan (self, &plan, &error))
    {
      tell (self->plan_answer, self->make, error->message, TRUE, FALSE);
      return;
    }
  const gsize n = (gsize)plan.n_targets * (gsize)plan.n_runs * (gtk_check_button_get_active (self->both_ways) ? 2 : 1);
  g_autofree char *step = place_text (self, chosen_axis (self), (plan.to - plan.from) / (plan.n_targets - 1));
  g_autofree char *words = g_strdup_printf (
      ngettext ("%d row; the targets lie %s apart.", "%d rows; the targets lie %s apart.", n), (int)n, step);
  tell (self->plan_answer, self->make, words, FALSE, n <= TRAMMEL_MAX_READINGS);
}

/* Doing it */

static void
append_rows (TrammelPositionEntry *self, const TrammelReadings *added)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (added, &n);
  const TrammelReadings *old = trammel_machine_readings (machine_of (self));
  const gsize before = trammel_readings_length (old);
  if (before + n > TRAMMEL_MAX_READINGS)
    {
      tell (self->answer, self->add, _ ("That would be more readings than a machine can hold."), TRUE, FALSE);
      return;
    }
  g_autoptr (TrammelReadings) all = trammel_readings_splice (old, before, 0, rows, n);
  trammel_session_edit (self->session, trammel_machine_with_readings (machine_of (self), all),
                        _ ("add a position test"), NULL);
  g_signal_emit (self, signals[DONE], 0, (int)before);
}

static void
add_list (TrammelPositionEntry *self)
{
  g_auto (TrammelPositionList) list = { NULL };
  if (read_list (self, &list, NULL))
    append_rows (self, list.readings);
}

static void
add_plan (TrammelPositionEntry *self)
{
  Plan plan;
  g_autoptr (TrammelReadings) rows = read_plan (self, &plan, NULL) ? rows_of_plan (self, &plan) : NULL;
  if (rows)
    append_rows (self, rows);
}

static void
leave (TrammelPositionEntry *self)
{
  g_signal_emit (self, signals[DONE], 0, -1);
}

static gboolean
escape_pressed (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  leave (TRAMMEL_POSITION_ENTRY (widget));
  return TRUE;
}

/* What there is to choose from */

static void
axis_chosen (TrammelPositionEntry *self)
{
  const TrammelAxis *axis = chosen_axis (self);
  if (self->filling || !axis)
    return;
  const double travel = trammel_axis_travel_value (axis);
  const TrammelUnit *unit = unit_of (self, axis);
  g_autofree char *to = isnan (travel) || travel <= 0
                            ? g_strdup ("100")
                            : trammel_display_significant (unit ? travel / trammel_unit_factor (unit) : travel, 6);
  gtk_editable_set_text (self->to, to);
  show_what_is_found (self);
  show_plan (self);
}

static void
list_axes (TrammelPositionEntry *self)
{
  g_autoptr (GtkStringList) letters = gtk_string_list_new (NULL);
  const int selected = trammel_session_selected_axis (self->session);
  for (gsize i = 0; i < trammel_machine_n_axes (machine_of (self)); i++)
    {
      const char letter[] = { trammel_axis_letter (trammel_machine_axis (machine_of (self), i)), '\0' };
      gtk_string_list_append (letters, letter);
    }
  gtk_drop_down_set_model (self->axis, G_LIST_MODEL (letters));
  gtk_drop_down_set_selected (self->axis, (guint)MAX (selected, 0));
}

static void
list_instruments (TrammelPositionEntry *self)
{
  gsize n;
  const TrammelInstrument *instruments = trammel_machine_instruments (machine_of (self), &n);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  gtk_string_list_append (names, _ ("not told"));
  for (gsize i = 0; i < n; i++)
    gtk_string_list_append (names, instruments[i].name);
  gtk_drop_down_set_model (self->instrument, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->instrument, 0);
}

void
trammel_position_entry_begin (TrammelPositionEntry *self, const char *text)
{
  g_return_if_fail (TRAMMEL_IS_POSITION_ENTRY (self) && self->session);

  self->filling = TRUE;
  list_axes (self);
  list_instruments (self);
  gtk_drop_down_set_selected (self->values, TRAMMEL_LIST_VALUES_GUESSED);
  gtk_drop_down_set_selected (self->passes, TRAMMEL_LIST_PASSES_GUESSED);
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->list), text ? text : "", -1);
  self->filling = FALSE;
  axis_chosen (self);
  gtk_widget_grab_focus (text ? self->add : GTK_WIDGET (self->list));
}

void
trammel_position_entry_set_session (TrammelPositionEntry *self, TrammelSession *session)
{
  g_return_if_fail (TRAMMEL_IS_POSITION_ENTRY (self) && TRAMMEL_IS_SESSION (session));
  g_set_object (&self->session, session);
}

static void
trammel_position_entry_dispose (GObject *object)
{
  TrammelPositionEntry *self = TRAMMEL_POSITION_ENTRY (object);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_position_entry_parent_class)->dispose (object);
}

static void
trammel_position_entry_class_init (TrammelPositionEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_position_entry_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  signals[DONE] = g_signal_new ("done", TRAMMEL_TYPE_POSITION_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_INT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_pressed, NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/position-entry.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, axis);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, values);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, passes);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, instrument);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, set);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, answer);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, add);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, from);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, to);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, n_targets);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, n_runs);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, both_ways);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, plan_answer);
  gtk_widget_class_bind_template_child (widget_class, TrammelPositionEntry, make);
  gtk_widget_class_bind_template_callback (widget_class, axis_chosen);
  gtk_widget_class_bind_template_callback (widget_class, show_what_is_found);
  gtk_widget_class_bind_template_callback (widget_class, show_plan);
  gtk_widget_class_bind_template_callback (widget_class, add_list);
  gtk_widget_class_bind_template_callback (widget_class, add_plan);
  gtk_widget_class_bind_template_callback (widget_class, leave);
}

static void
trammel_position_entry_init (TrammelPositionEntry *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_editable_set_text (self->from, "0");
  gtk_editable_set_text (self->n_targets, "11");
  gtk_editable_set_text (self->n_runs, "5");
  g_signal_connect_swapped (gtk_text_view_get_buffer (self->list), "changed", G_CALLBACK (show_what_is_found), self);
}
