/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/finder-row.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "draw/finder-words.h"
#include "draw/train-drawing.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "window/appearance.h"
#include "window/rewrite.h"

struct _TrammelFinderRow
{
  GtkWidget parent_instance;

  TrammelFinderTrain train;
  char letter;
  TrammelTrainDrawing *drawing;

  GtkWidget *root;
  GtkDrawingArea *picture;
  GtkLabel *title;
  GtkLabel *facts;
  GtkLabel *meaning;
  GtkButton *use;
};

G_DEFINE_FINAL_TYPE (TrammelFinderRow, trammel_finder_row, GTK_TYPE_WIDGET)

static guint use_signal;

static void
use_clicked (TrammelFinderRow *self)
{
  g_signal_emit (self, use_signal, 0, &self->train);
}

static void
paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TrammelFinderRow *self = data;
  const TrammelTrainPicture picture = {
    .width = width,
    .height = height,
    .palette = trammel_palette (trammel_window_is_dark (GTK_WIDGET (self))),
    .axis_letter = self->letter,
    .selected_part = -1,
    .small = TRUE,
  };
  if (self->drawing)
    trammel_train_drawing_paint (self->drawing, cr, &picture);
}

/* The gears by themselves: a motor to turn them, a table that is turned. */
static TrammelTrainDrawing *
drawing_of (const TrammelFinderTrain *found)
{
  g_autoptr (TrammelRecord) motor = trammel_record_new (trammel_motor_kind ("stepper"));
  g_autoptr (TrammelRecord) table = trammel_record_new (trammel_output_kind ("table"));
  g_autoptr (TrammelTrain) bare = trammel_train_new (motor, table, FALSE);
  g_autoptr (TrammelTrain) train = trammel_finder_apply (bare, found, NULL, NULL);
  return train ? trammel_train_drawing_new (train, NAN, NULL) : NULL;
}

/* TRUE where @axis would move the other way than it does now. */
static gboolean
turns_the_axis (const TrammelFinderTrain *found, const TrammelAxis *axis)
{
  const TrammelTrain *train = axis ? trammel_axis_train (axis) : NULL;
  g_autoptr (TrammelTrain) made = train ? trammel_finder_apply (train, found, NULL, NULL) : NULL;
  g_autoptr (TrammelFacts) now = train ? trammel_train_facts (train, NULL) : NULL;
  g_autoptr (TrammelFacts) then = made ? trammel_train_facts (made, NULL) : NULL;
  return now && then && now->direction != then->direction;
}

/* "Holes 20 × 20 and 30 × 0 mm apart.", mesh by mesh; NULL without a plate. */
static char *
places_text (const TrammelFinderTrain *train, TrammelHoleGrid grid, const TrammelUnit *unit)
{
  TrammelMeshOffset places[TRAMMEL_FINDER_MOST_MESHES];
  const gsize n = grid.pitch > 0 ? trammel_finder_places (train, grid, places) : 0;
  const double factor = trammel_unit_factor (unit);
  g_autoptr (GString) list = g_string_new (NULL);
  if (n == 0)
    return NULL;

  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *dx = trammel_display_significant (places[i].dx / factor, 5);
      g_autofree char *dy = trammel_display_significant (places[i].dy / factor, 5);
      g_string_append_printf (list, "%s%s × %s", i == 0 ? "" : ", ", dx, dy);
    }
  return g_strdup_printf (_ ("From hole to hole %s %s."), list->str, trammel_unit_symbol (unit));
}

static char *
facts_text (const TrammelFinderTrain *train, TrammelHoleGrid grid, const TrammelUnit *unit)
{
  g_autofree char *ratio = trammel_exact_to_display (train->ratio, trammel_display_decimal_sign ());
  g_autofree char *gears = g_strdup_printf (ngettext ("%d gear", "%d gears", (gulong)train->gears), train->gears);
  g_autofree char *span = trammel_display_length (train->span, unit, trammel_unit_factor (unit) == 1 ? 1 : 2);
  g_autofree char *play = trammel_display_significant (train->play * 180 / G_PI, 2);
  g_autofree char *places = places_text (train, grid, unit);
  g_autofree char *facts
      = g_strdup_printf (_ ("Ratio %s. %s over %s. Play about %s° at the last shaft."), ratio, gears, span, play);
  return places ? g_strdup_printf ("%s %s", facts, places) : g_steal_pointer (&facts);
}

static char *
meaning_text (const TrammelFinderTrain *train, const TrammelAxis *axis)
{
  g_autofree char *meaning = trammel_finder_words_meaning (train);
  if (!turns_the_axis (train, axis))
    return g_steal_pointer (&meaning);
  g_autofree char *turned = g_strdup_printf (_ ("%c moves the other way than now."), trammel_axis_letter (axis));
  return g_strdup_printf ("%s %s", meaning, turned);
}

void
trammel_finder_row_show (TrammelFinderRow *self, const TrammelFinderTrain *train, TrammelHoleGrid grid,
                         const TrammelAxis *axis, const TrammelUnit *unit)
{
  g_return_if_fail (TRAMMEL_IS_FINDER_ROW (self) && train != NULL && unit != NULL);

  g_autofree char *words = trammel_finder_words_train (train);
  g_autofree char *error = trammel_finder_words_error (train->error);
  g_autofree char *title = g_strdup_printf ("%s   %s", words, error);
  g_autofree char *facts = facts_text (train, grid, unit);
  g_autofree char *meaning = meaning_text (train, axis);
  g_autofree char *name = g_strdup_printf (_ ("Use this train: %s, %s"), words, error);

  self->train = *train;
  self->letter = axis ? trammel_axis_letter (axis) : 'X';
  g_clear_pointer (&self->drawing, trammel_train_drawing_free);
  self->drawing = drawing_of (train);
  gtk_widget_queue_draw (GTK_WIDGET (self->picture));
  trammel_rewrite_label (self->title, title);
  trammel_rewrite_label (self->facts, facts);
  trammel_rewrite_label (self->meaning, meaning);
  gtk_widget_set_sensitive (GTK_WIDGET (self->use), axis != NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->use), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

static void
trammel_finder_row_dispose (GObject *object)
{
  TrammelFinderRow *self = TRAMMEL_FINDER_ROW (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->drawing, trammel_train_drawing_free);
  G_OBJECT_CLASS (trammel_finder_row_parent_class)->dispose (object);
}

static void
trammel_finder_row_class_init (TrammelFinderRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_finder_row_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/finder-row.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, picture);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, title);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, facts);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, meaning);
  gtk_widget_class_bind_template_child (widget_class, TrammelFinderRow, use);
  gtk_widget_class_bind_template_callback (widget_class, use_clicked);
  use_signal = g_signal_new ("use", TRAMMEL_TYPE_FINDER_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                             G_TYPE_POINTER);
}

static void
trammel_finder_row_init (TrammelFinderRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_drawing_area_set_draw_func (self->picture, paint, self, NULL);
}

GtkWidget *
trammel_finder_row_new (void)
{
  return g_object_new (TRAMMEL_TYPE_FINDER_ROW, NULL);
}
