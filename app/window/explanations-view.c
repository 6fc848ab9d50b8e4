/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/explanations-view.h"

#include <glib/gi18n.h>

#include "draw/explanation-sentences.h"
#include "window/axis-badge.h"
#include "window/rewrite.h"

/* Of one axis; what comes after these is hardly ever it. */
#define MOST_OF_ONE_AXIS 4

/* One explanation's widgets: made once, then rewritten and hidden as explanations come and go. */
typedef struct
{
  GtkWidget *box;
  TrammelAxisBadge *badge;
  GtkLabel *sentence;
  GtkWidget *button;
} Row;

struct _TrammelExplanationsView
{
  GtkWidget parent_instance;

  GPtrArray *explanations; /* all of them; NULL: none yet */
  GArray *rows;            /* of Row */
  GArray *shown;           /* of guint: which explanation each row shows */

  GtkWidget *root;
  GtkBox *list;
  GtkLabel *more;
};

G_DEFINE_FINAL_TYPE (TrammelExplanationsView, trammel_explanations_view, GTK_TYPE_WIDGET)

static guint put_right_signal;

static void
put_right_clicked (TrammelExplanationsView *self, GtkWidget *button)
{
  for (guint i = 0; i < self->shown->len; i++)
    if (g_array_index (self->rows, Row, i).button == button)
      {
        /* The handler shows other explanations, which frees these. */
        g_autoptr (GPtrArray) kept = g_ptr_array_ref (self->explanations);
        g_signal_emit (self, put_right_signal, 0, kept->pdata[g_array_index (self->shown, guint, i)]);
        return;
      }
}

static void
add_row (TrammelExplanationsView *self)
{
  Row row = { .box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10),
              .badge = g_object_new (TRAMMEL_TYPE_AXIS_BADGE, "valign", GTK_ALIGN_START, NULL),
              .sentence = GTK_LABEL (gtk_label_new (NULL)),
              .button = gtk_button_new_with_label (_ ("Put right")) };

  gtk_label_set_xalign (row.sentence, 0);
  gtk_label_set_wrap (row.sentence, TRUE);
  gtk_label_set_wrap_mode (row.sentence, PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (row.sentence, TRUE);
  gtk_widget_set_can_focus (GTK_WIDGET (row.sentence), FALSE);
  gtk_widget_set_hexpand (GTK_WIDGET (row.sentence), TRUE);
  gtk_widget_set_valign (row.button, GTK_ALIGN_CENTER);
  g_signal_connect_object (row.button, "clicked", G_CALLBACK (put_right_clicked), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (row.box), GTK_WIDGET (row.badge));
  gtk_box_append (GTK_BOX (row.box), GTK_WIDGET (row.sentence));
  gtk_box_append (GTK_BOX (row.box), row.button);
  gtk_box_append (self->list, row.box);
  g_array_append_val (self->rows, row);
}

static void
show_row (const Row *row, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
          const TrammelExplanation *explanation)
{
  g_autofree char *sentence = trammel_sentences_explanation (machine, adjustment, explanation);
  g_autofree char *name = g_strdup_printf (_ ("Put right: %c, %s"), explanation->letter, explanation->change);
  const char *effect = explanation->fits ? _ ("Changes the entry and puts its counts per unit in force. The readings "
                                              "along this axis move to the log.")
                                         : _ ("Changes the entry and puts the corrected counts per unit in force. The "
                                              "readings along this axis move to the log.");

  trammel_axis_badge_set_letter (row->badge, explanation->letter);
  if (g_strcmp0 (gtk_label_get_text (row->sentence), sentence) != 0)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row->button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  trammel_rewrite_label (row->sentence, sentence);
  trammel_rewrite_tooltip (row->button, effect);
  gtk_widget_set_visible (row->box, TRUE);
}

static void
choose_shown (TrammelExplanationsView *self)
{
  char letter = '\0';
  guint n_of_axis = 0;

  g_array_set_size (self->shown, 0);
  for (guint i = 0; i < self->explanations->len; i++)
    {
      const TrammelExplanation *explanation = self->explanations->pdata[i];
      n_of_axis = explanation->letter == letter ? n_of_axis + 1 : 1;
      letter = explanation->letter;
      if (n_of_axis <= MOST_OF_ONE_AXIS)
        g_array_append_val (self->shown, i);
    }
}

static void
show_more (TrammelExplanationsView *self)
{
  guint n = self->explanations->len - self->shown->len;
  g_autofree char *text = g_strdup_printf (
      ngettext ("%u less plausible one is not shown.", "%u less plausible ones are not shown.", n), n);

  trammel_rewrite_label (self->more, text);
  gtk_widget_set_visible (GTK_WIDGET (self->more), n > 0);
}

static void
show_nothing (TrammelExplanationsView *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
trammel_explanations_view_show (TrammelExplanationsView *self, const TrammelMachine *machine,
                                const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_EXPLANATIONS_VIEW (self) && machine != NULL);

  if (adjustment == NULL)
    {
      show_nothing (self);
      return;
    }
  g_clear_pointer (&self->explanations, g_ptr_array_unref);
  self->explanations = trammel_machine_explain (machine, adjustment);
  if (self->explanations->len == 0)
    {
      show_nothing (self);
      return;
    }
  choose_shown (self);
  while (self->rows->len < self->shown->len)
    add_row (self);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = &g_array_index (self->rows, Row, i);
      if (i < self->shown->len)
        show_row (row, machine, adjustment, self->explanations->pdata[g_array_index (self->shown, guint, i)]);
      else
        gtk_widget_set_visible (row->box, FALSE);
    }
  show_more (self);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

static void
trammel_explanations_view_dispose (GObject *object)
{
  TrammelExplanationsView *self = TRAMMEL_EXPLANATIONS_VIEW (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_explanations_view_parent_class)->dispose (object);
}

static void
trammel_explanations_view_finalize (GObject *object)
{
  TrammelExplanationsView *self = TRAMMEL_EXPLANATIONS_VIEW (object);
  g_clear_pointer (&self->explanations, g_ptr_array_unref);
  g_array_unref (self->rows);
  g_array_unref (self->shown);
  G_OBJECT_CLASS (trammel_explanations_view_parent_class)->finalize (object);
}

static void
trammel_explanations_view_class_init (TrammelExplanationsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_explanations_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = trammel_explanations_view_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/explanations-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelExplanationsView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelExplanationsView, list);
  gtk_widget_class_bind_template_child (widget_class, TrammelExplanationsView, more);
  put_right_signal = g_signal_new ("put-right", TRAMMEL_TYPE_EXPLANATIONS_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void
trammel_explanations_view_init (TrammelExplanationsView *self)
{
  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  self->shown = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
