/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/budget-view.h"

#include <glib/gi18n.h>

#include "draw/budget-bar.h"
#include "draw/foresight-sentences.h"
#include "window/appearance.h"
#include "window/axis-badge.h"
#include "window/rewrite.h"

#define BAR_HEIGHT 18

/* One axis's widgets: made once, then rewritten and hidden as axes come and go. */
typedef struct
{
  GtkWidget *box;
  TrammelAxisBadge *badge;
  GtkWidget *bar;
  GtkLabel *legend;
  char letter; /* that is shown; '\0': none yet */
} Row;

struct _TrammelBudgetView
{
  GtkWidget parent_instance;

  GArray *budget; /* of TrammelBudgetLine; NULL: none yet */
  GArray *rows;   /* of Row */
  GtkWidget *heading;
};

G_DEFINE_FINAL_TYPE (TrammelBudgetView, trammel_budget_view, GTK_TYPE_WIDGET)

/* The lines of the axis that row @i shows. */
static const TrammelBudgetLine *
lines_of_row (TrammelBudgetView *self, guint i, gsize *n)
{
  guint first = 0, end = 0, row = 0;

  *n = 0;
  for (; self->budget != NULL && end <= self->budget->len; end++)
    {
      const TrammelBudgetLine *lines = (const TrammelBudgetLine *)(gpointer)self->budget->data;
      if (end < self->budget->len && lines[end].letter == lines[first].letter)
        continue;
      if (row == i && end > first)
        {
          *n = end - first;
          return lines + first;
        }
      row++;
      first = end;
    }
  return NULL;
}

static int
place_of_bar (TrammelBudgetView *self, GtkWidget *bar)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (g_array_index (self->rows, Row, i).bar == bar)
      return (int)i;
  return -1;
}

static void
draw_bar (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelBudgetView *self = data;
  const int place = place_of_bar (self, GTK_WIDGET (area));
  gsize n;

  if (place < 0)
    return;
  const TrammelBudgetLine *lines = lines_of_row (self, (guint)place, &n);
  const TrammelPalette *palette = trammel_palette (trammel_window_is_dark (GTK_WIDGET (area)));
  if (lines != NULL)
    trammel_budget_bar_paint (cr, width, height, lines, n, palette, "Sans 11px");
}

static void
add_row (TrammelBudgetView *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  Row row = { .box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10),
              .badge = g_object_new (TRAMMEL_TYPE_AXIS_BADGE, "valign", GTK_ALIGN_START, NULL),
              .bar = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL),
              .legend = GTK_LABEL (gtk_label_new (NULL)) };

  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (row.bar), BAR_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (row.bar), draw_bar, self, NULL);
  gtk_label_set_xalign (row.legend, 0);
  gtk_label_set_wrap (row.legend, TRUE);
  gtk_label_set_selectable (row.legend, TRUE);
  gtk_widget_set_can_focus (GTK_WIDGET (row.legend), FALSE);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), row.bar);
  gtk_box_append (GTK_BOX (words), GTK_WIDGET (row.legend));
  gtk_box_append (GTK_BOX (row.box), GTK_WIDGET (row.badge));
  gtk_box_append (GTK_BOX (row.box), words);
  gtk_widget_insert_before (row.box, GTK_WIDGET (self), NULL);
  g_array_append_val (self->rows, row);
}

static void
show_row (Row *row, const TrammelBudgetLine *lines, gsize n)
{
  g_autofree char *words = trammel_sentences_budget (lines, n);
  g_autofree char *name = g_strdup_printf (_ ("Where the uncertainty of %c comes from"), lines->letter);

  trammel_axis_badge_set_letter (row->badge, lines->letter);
  if (g_strcmp0 (gtk_label_get_text (row->legend), words) != 0 || row->letter != lines->letter)
    {
      row->letter = lines->letter;
      gtk_accessible_update_property (GTK_ACCESSIBLE (row->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                      GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
      gtk_widget_queue_draw (row->bar);
    }
  trammel_rewrite_label (row->legend, words);
  gtk_widget_set_visible (row->box, TRUE);
}

void
trammel_budget_view_show (TrammelBudgetView *self, TrammelSession *session, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_BUDGET_VIEW (self) && TRAMMEL_IS_SESSION (session) && adjustment != NULL);

  const TrammelAdjustOptions how
      = { .scatter = trammel_session_scatter (session), .robust = trammel_session_robust (session) };
  gsize n;

  g_clear_pointer (&self->budget, g_array_unref);
  self->budget = trammel_machine_budget (trammel_session_machine (session), adjustment, &how);
  guint i = 0;
  for (const TrammelBudgetLine *lines = lines_of_row (self, 0, &n); lines != NULL; lines = lines_of_row (self, ++i, &n))
    {
      if (i >= self->rows->len)
        add_row (self);
      show_row (&g_array_index (self->rows, Row, i), lines, n);
    }
  for (guint rest = i; rest < self->rows->len; rest++)
    gtk_widget_set_visible (g_array_index (self->rows, Row, rest).box, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), i > 0);
}

static void
trammel_budget_view_dispose (GObject *object)
{
  TrammelBudgetView *self = TRAMMEL_BUDGET_VIEW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
  g_array_set_size (self->rows, 0);
  g_clear_pointer (&self->budget, g_array_unref);
  G_OBJECT_CLASS (trammel_budget_view_parent_class)->dispose (object);
}

static void
trammel_budget_view_finalize (GObject *object)
{
  g_array_unref (TRAMMEL_BUDGET_VIEW (object)->rows);
  G_OBJECT_CLASS (trammel_budget_view_parent_class)->finalize (object);
}

static void
trammel_budget_view_class_init (TrammelBudgetViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_budget_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = trammel_budget_view_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "budget");
}

static void
trammel_budget_view_init (TrammelBudgetView *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  self->heading = gtk_label_new (_ ("Where the uncertainty comes from"));
  gtk_label_set_xalign (GTK_LABEL (self->heading), 0);
  gtk_widget_add_css_class (self->heading, "heading");
  gtk_widget_insert_before (self->heading, GTK_WIDGET (self), NULL);
}
