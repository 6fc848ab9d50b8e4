/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-results.h"

#include <glib/gi18n.h>
#include <string.h>

#include "draw/display.h"
#include "draw/sentences.h"
#include "window/axis-badge.h"

struct _TrammelAxisResults
{
  GtkWidget parent_instance;

  GtkWidget *root;
  GtkWidget *rows;
  GtkWidget *adopt;
  GPtrArray *checks;   /* borrowed; each carries its axis's letter */
  GHashTable *choices; /* letter → TRUE or FALSE where a person has chosen */
};

G_DEFINE_FINAL_TYPE (TrammelAxisResults, trammel_axis_results, GTK_TYPE_WIDGET)

static guint adopt_signal;

static char
letter_of (GtkWidget *check)
{
  return (char)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (check), "letter"));
}

/* "XY" */
static char *
checked_letters (TrammelAxisResults *self)
{
  GString *letters = g_string_new (NULL);

  for (guint i = 0; i < self->checks->len; i++)
    {
      GtkWidget *check = g_ptr_array_index (self->checks, i);
      if (gtk_check_button_get_active (GTK_CHECK_BUTTON (check)))
        g_string_append_c (letters, letter_of (check));
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

  gtk_button_set_label (GTK_BUTTON (self->adopt), label);
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
  g_hash_table_insert (self->choices, GINT_TO_POINTER ((int)letter_of (GTK_WIDGET (check))),
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

static GtkWidget *
make_check (TrammelAxisResults *self, char letter, gboolean significant)
{
  gpointer choice;
  gboolean active = significant;
  g_autofree char *label = g_strdup_printf (_ ("Adopt %c"), letter);
  GtkWidget *check = gtk_check_button_new_with_label (label);

  if (g_hash_table_lookup_extended (self->choices, GINT_TO_POINTER ((int)letter), NULL, &choice))
    active = GPOINTER_TO_INT (choice);
  g_object_set_data (G_OBJECT (check), "letter", GINT_TO_POINTER ((int)letter));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), active);
  g_signal_connect (check, "toggled", G_CALLBACK (check_toggled), self);
  g_ptr_array_add (self->checks, check);
  return check;
}

static GtkWidget *
make_choice (TrammelAxisResults *self, char letter, gboolean significant)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (box), make_check (self, letter, significant));
  if (!significant)
    {
      GtkWidget *note = make_label (_ ("no change needed"), "dim-label");
      gtk_label_set_wrap (GTK_LABEL (note), FALSE);
      gtk_widget_add_css_class (note, "small");
      gtk_box_append (GTK_BOX (box), note);
    }
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  return box;
}

static GtkWidget *
make_words (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const TrammelAxis *axis,
            const TrammelCorrection *correction, const GError *error)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *sentence = trammel_sentences_axis (machine, adjustment, trammel_axis_letter (axis));

  gtk_box_append (GTK_BOX (box), make_label (sentence ? sentence : "", "heading"));
  if (error)
    gtk_box_append (GTK_BOX (box), make_label (error->message, "trouble"));
  else
    {
      g_autofree char *numbers = numbers_text (axis, correction);
      gtk_box_append (GTK_BOX (box), make_label (numbers, "numeric"));
    }
  gtk_widget_set_hexpand (box, TRUE);
  return box;
}

static void
add_row (TrammelAxisResults *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
         const TrammelAxis *axis)
{
  char letter = trammel_axis_letter (axis);
  TrammelCorrection correction = { 0 };
  g_autoptr (GError) error = NULL;
  gboolean works = trammel_machine_correction (machine, adjustment, letter, &correction, &error);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);

  if (gtk_widget_get_first_child (self->rows))
    gtk_box_append (GTK_BOX (self->rows), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  gtk_widget_add_css_class (row, "axis-result");
  gtk_widget_set_margin_top (row, 8);
  gtk_widget_set_margin_bottom (row, 8);
  gtk_widget_set_margin_start (row, 10);
  gtk_widget_set_margin_end (row, 10);
  gtk_box_append (GTK_BOX (row), make_badge (letter));
  gtk_box_append (GTK_BOX (row), make_words (machine, adjustment, axis, &correction, works ? NULL : error));
  if (works)
    gtk_box_append (GTK_BOX (row),
                    make_choice (self, letter, trammel_adjustment_axis (adjustment, letter)->significant));
  gtk_box_append (GTK_BOX (self->rows), row);
}

void
trammel_axis_results_show (TrammelAxisResults *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  GtkWidget *child;

  g_return_if_fail (TRAMMEL_IS_AXIS_RESULTS (self) && machine != NULL && adjustment != NULL);

  g_ptr_array_set_size (self->checks, 0);
  while ((child = gtk_widget_get_first_child (self->rows)))
    gtk_box_remove (GTK_BOX (self->rows), child);
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      const TrammelAxis *axis = trammel_machine_axis (machine, i);
      if (trammel_adjustment_axis (adjustment, trammel_axis_letter (axis)))
        add_row (self, machine, adjustment, axis);
    }
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
  g_ptr_array_unref (self->checks);
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
  self->checks = g_ptr_array_new ();
  self->choices = g_hash_table_new (NULL, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
}
