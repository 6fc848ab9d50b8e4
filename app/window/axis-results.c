/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-results.h"

#include <glib/gi18n.h>
#include <string.h>

#include "draw/display.h"
#include "draw/sentences.h"
#include "window/axis-badge.h"
#include "window/rewrite.h"

/* One axis's widgets, kept as long as it is there. */
typedef struct
{
  char letter;
  gboolean works; /* there is a value to adopt */
  GtkWidget *sentence, *numbers, *trouble;
  GtkWidget *choice, *check, *note;
} Row;

struct _TrammelAxisResults
{
  GtkWidget parent_instance;

  GtkWidget *root;
  GtkWidget *rows;
  GtkWidget *adopt;
  GArray *shown;       /* Row */
  gboolean showing;    /* checks are being set, not clicked */
  GHashTable *choices; /* letter → TRUE or FALSE where a person has chosen */
};

G_DEFINE_FINAL_TYPE (TrammelAxisResults, trammel_axis_results, GTK_TYPE_WIDGET)

static guint adopt_signal;

/* "XY" */
static char *
checked_letters (TrammelAxisResults *self)
{
  GString *letters = g_string_new (NULL);

  for (guint i = 0; i < self->shown->len; i++)
    {
      const Row *row = &g_array_index (self->shown, Row, i);
      if (row->works && gtk_check_button_get_active (GTK_CHECK_BUTTON (row->check)))
        g_string_append_c (letters, row->letter);
    }
  return g_string_free (letters, FALSE);
}

/* "X, Y" */
static char *
listed (const char *letters)
{
  GString *list = g_string_new (NULL);

  for (const char *letter = letters; *letter; letter++)
    g_string_append_printf (list, "%s%c", letter == letters ? "" : ", ", *letter);
  return g_string_free (list, FALSE);
}

static void
show_button (TrammelAxisResults *self)
{
  g_autofree char *letters = checked_letters (self), *list = listed (letters);
  g_autofree char *label = *letters ? g_strdup_printf (_ ("_Adopt %s"), list) : g_strdup (_ ("_Adopt"));

  trammel_rewrite_button (GTK_BUTTON (self->adopt), label);
  gtk_widget_set_sensitive (self->adopt, *letters != '\0');
}

static void
adopt_clicked (TrammelAxisResults *self)
{
  g_autofree char *letters = checked_letters (self);
  if (*letters)
    g_signal_emit (self, adopt_signal, 0, letters);
}

static void
check_toggled (GtkCheckButton *check, TrammelAxisResults *self)
{
  if (self->showing)
    return;
  g_hash_table_insert (self->choices, g_object_get_data (G_OBJECT (check), "letter"),
                       GINT_TO_POINTER (gtk_check_button_get_active (check)));
  show_button (self);
}

static GtkWidget *
make_label (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
make_badge (char letter)
{
  GtkWidget *badge = g_object_new (TRAMMEL_TYPE_AXIS_BADGE, "valign", GTK_ALIGN_START, NULL);

  trammel_axis_badge_set_letter (TRAMMEL_AXIS_BADGE (badge), letter);
  return badge;
}

static gboolean
is_zero_text (const char *number)
{
  return strpbrk (number, "123456789") == NULL;
}

/* "in force 80 steps/mm · corrected 80.337 ± 0.025 steps/mm · change +0.42 %" */
static char *
numbers_text (const TrammelAxis *axis, const TrammelCorrection *correction)
{
  double change = 100 * (correction->corrected / correction->in_force - 1);
  double half = (correction->high - correction->low) / 2;
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *now = trammel_display_significant (correction->in_force, 8);
  g_autofree char *corrected = trammel_display_interval (correction->corrected, half);
  g_autofree char *percent = trammel_display_rounded (change, 100 * half / correction->in_force);

  return g_strdup_printf (_ ("in force %s · corrected %s %s (95 %%) · change %s%s %%"), now, corrected, unit,
                          change > 0 && !is_zero_text (percent) ? "+" : "", percent);
}

/* Whether @letter is to be adopted: as a person chose, else when the change is significant. */
static gboolean
is_chosen (TrammelAxisResults *self, char letter, gboolean significant)
{
  gpointer choice;

  if (g_hash_table_lookup_extended (self->choices, GINT_TO_POINTER ((int)letter), NULL, &choice))
    return GPOINTER_TO_INT (choice);
  return significant;
}

static GtkWidget *
make_choice (TrammelAxisResults *self, Row *row)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *label = g_strdup_printf (_ ("Adopt %c"), row->letter);

  row->check = gtk_check_button_new_with_label (label);
  g_object_set_data (G_OBJECT (row->check), "letter", GINT_TO_POINTER ((int)row->letter));
  g_signal_connect (row->check, "toggled", G_CALLBACK (check_toggled), self);
  row->note = make_label (_ ("no change needed"), "dim-label");
  gtk_label_set_wrap (GTK_LABEL (row->note), FALSE);
  gtk_widget_add_css_class (row->note, "small");
  gtk_box_append (GTK_BOX (box), row->check);
  gtk_box_append (GTK_BOX (box), row->note);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  return box;
}

static GtkWidget *
make_words (Row *row)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  row->sentence = make_label ("", "heading");
  row->trouble = make_label ("", "trouble");
  row->numbers = make_label ("", "numeric");
  gtk_box_append (GTK_BOX (box), row->sentence);
  gtk_box_append (GTK_BOX (box), row->trouble);
  gtk_box_append (GTK_BOX (box), row->numbers);
  gtk_widget_set_hexpand (box, TRUE);
  return box;
}

static void
add_row (TrammelAxisResults *self, char letter)
{
  Row row = { .letter = letter };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);

  if (self->shown->len > 0)
    gtk_box_append (GTK_BOX (self->rows), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_widget_add_css_class (box, "axis-result");
  gtk_widget_set_margin_top (box, 8);
  gtk_widget_set_margin_bottom (box, 8);
  gtk_widget_set_margin_start (box, 10);
  gtk_widget_set_margin_end (box, 10);
  row.choice = make_choice (self, &row);
  gtk_box_append (GTK_BOX (box), make_badge (letter));
  gtk_box_append (GTK_BOX (box), make_words (&row));
  gtk_box_append (GTK_BOX (box), row.choice);
  gtk_box_append (GTK_BOX (self->rows), box);
  g_array_append_val (self->shown, row);
}

/* The letters of the axes that @adjustment corrects: "XYE". */
static char *
corrected_letters (const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  GString *letters = g_string_new (NULL);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      char letter = trammel_axis_letter (trammel_machine_axis (machine, i));
      if (trammel_adjustment_axis (adjustment, letter))
        g_string_append_c (letters, letter);
    }
  return g_string_free (letters, FALSE);
}

static gboolean
shows_these (TrammelAxisResults *self, const char *letters)
{
  if (self->shown->len != strlen (letters))
    return FALSE;
  for (guint i = 0; i < self->shown->len; i++)
    if (g_array_index (self->shown, Row, i).letter != letters[i])
      return FALSE;
  return TRUE;
}

static void
make_rows (TrammelAxisResults *self, const char *letters)
{
  GtkWidget *child;

  g_array_set_size (self->shown, 0);
  while ((child = gtk_widget_get_first_child (self->rows)))
    gtk_box_remove (GTK_BOX (self->rows), child);
  for (; *letters; letters++)
    add_row (self, *letters);
}

static void
show_row (TrammelAxisResults *self, Row *row, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  const TrammelAxis *axis = trammel_machine_axis (machine, trammel_machine_axis_index (machine, row->letter));
  gboolean significant = trammel_adjustment_axis (adjustment, row->letter)->significant;
  g_autofree char *sentence = trammel_sentences_axis (machine, adjustment, row->letter);
  TrammelCorrection correction = { 0 };
  g_autoptr (GError) error = NULL;

  row->works = trammel_machine_correction (machine, adjustment, row->letter, &correction, &error);
  g_autofree char *numbers = row->works ? numbers_text (axis, &correction) : NULL;
  trammel_rewrite_label (GTK_LABEL (row->sentence), sentence);
  trammel_rewrite_label (GTK_LABEL (row->numbers), numbers);
  trammel_rewrite_label (GTK_LABEL (row->trouble), error ? error->message : NULL);
  gtk_widget_set_visible (row->numbers, row->works);
  gtk_widget_set_visible (row->trouble, !row->works);
  gtk_widget_set_visible (row->choice, row->works);
  gtk_widget_set_visible (row->note, !significant);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->check), is_chosen (self, row->letter, significant));
}

void
trammel_axis_results_show (TrammelAxisResults *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_AXIS_RESULTS (self) && machine != NULL && adjustment != NULL);

  g_autofree char *letters = corrected_letters (machine, adjustment);
  if (!shows_these (self, letters))
    make_rows (self, letters);
  self->showing = TRUE;
  for (guint i = 0; i < self->shown->len; i++)
    show_row (self, &g_array_index (self->shown, Row, i), machine, adjustment);
  self->showing = FALSE;
  show_button (self);
}

void
trammel_axis_results_reset (TrammelAxisResults *self)
{
  g_return_if_fail (TRAMMEL_IS_AXIS_RESULTS (self));
  g_hash_table_remove_all (self->choices);
}

static void
trammel_axis_results_dispose (GObject *object)
{
  TrammelAxisResults *self = TRAMMEL_AXIS_RESULTS (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_axis_results_parent_class)->dispose (object);
}

static void
trammel_axis_results_finalize (GObject *object)
{
  TrammelAxisResults *self = TRAMMEL_AXIS_RESULTS (object);
  g_array_unref (self->shown);
  g_hash_table_unref (self->choices);
  G_OBJECT_CLASS (trammel_axis_results_parent_class)->finalize (object);
}

static void
trammel_axis_results_class_init (TrammelAxisResultsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_axis_results_dispose;
  G_OBJECT_CLASS (klass)->finalize = trammel_axis_results_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/axis-results.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisResults, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisResults, rows);
  gtk_widget_class_bind_template_child (widget_class, TrammelAxisResults, adopt);
  gtk_widget_class_bind_template_callback (widget_class, adopt_clicked);
  adopt_signal = g_signal_new ("adopt", TRAMMEL_TYPE_AXIS_RESULTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                               1, G_TYPE_STRING);
}

static void
trammel_axis_results_init (TrammelAxisResults *self)
{
  self->shown = g_array_new (FALSE, FALSE, sizeof (Row));
  self->choices = g_hash_table_new (NULL, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
}
