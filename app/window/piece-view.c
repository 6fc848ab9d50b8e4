/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/piece-view.h"

#include <glib/gi18n.h>

#include "draw/piece-drawing.h"
#include "window/appearance.h"

struct _TrammelPieceView
{
  GtkWidget parent_instance;

  TrammelMachine *machine; /* that the piece was laid out from */
  TrammelTestPiece *piece;
  TrammelTestPiece *other; /* that the machine is not about to make, but may have made; NULL until it is looked for */
  GError *error;
  const TrammelUnit *unit;
  gboolean all_dimensions;
  gboolean has_reading;
  TrammelReading reading;
};

G_DEFINE_FINAL_TYPE (TrammelPieceView, trammel_piece_view, GTK_TYPE_WIDGET)

enum
{
  PICKED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* The piece follows from the piece's parameters and the axes, which machines share until they are edited. */
static gboolean
needs_layout (TrammelPieceView *self, const TrammelMachine *machine)
{
  if (!self->machine || trammel_machine_piece (self->machine) != trammel_machine_piece (machine)
      || trammel_machine_n_axes (self->machine) != trammel_machine_n_axes (machine))
    return TRUE;
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    if (trammel_machine_axis (self->machine, i) != trammel_machine_axis (machine, i))
      return TRUE;
  return FALSE;
}

static void
lay_out (TrammelPieceView *self, const TrammelMachine *machine)
{
  g_clear_pointer (&self->machine, trammel_machine_unref);
  g_clear_pointer (&self->piece, trammel_test_piece_free);
  g_clear_pointer (&self->other, trammel_test_piece_free);
  g_clear_error (&self->error);
  self->machine = trammel_machine_ref (machine);
  self->piece = trammel_test_piece_new (machine, &self->error);
}

static gboolean
shows_already (TrammelPieceView *self, const TrammelMachine *machine, const TrammelReading *reading,
               gboolean all_dimensions)
{
  return !needs_layout (self, machine) && self->unit == trammel_machine_display_unit (machine)
         && self->all_dimensions == all_dimensions && self->has_reading == (reading != NULL)
         && (!reading || trammel_reading_equal (&self->reading, reading));
}

static void
drop_reading (TrammelPieceView *self)
{
  if (self->has_reading)
    trammel_reading_clear (&self->reading);
  self->has_reading = FALSE;
}

/* NULL: none that can be laid out has what the reading is of. */
static TrammelTestPiece *
other_piece_with (const TrammelMachine *machine, const TrammelReading *reading)
{
  const TrammelRecord *piece = trammel_machine_piece (machine);
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);
  for (gsize i = 0; i < n; i++)
    {
      if (kinds[i] == trammel_record_kind (piece))
        continue;
      g_autoptr (TrammelRecord) record = trammel_piece_of_kind (piece, kinds[i]);
      g_autoptr (TrammelMachine) with = trammel_machine_with_piece (machine, record);
      g_autoptr (TrammelTestPiece) other = trammel_test_piece_new (with, NULL);
      if (other && trammel_test_piece_find (other, reading))
        return g_steal_pointer (&other);
    }
  return NULL;
}

/* The piece that has what the reading is of, and @feature; else the machine's. */
static const TrammelTestPiece *
piece_to_show (TrammelPieceView *self, const TrammelFeature **feature)
{
  *feature = self->piece && self->has_reading ? trammel_test_piece_find (self->piece, &self->reading) : NULL;
  if (*feature || !self->has_reading || !self->reading.has_along)
    return self->piece;
  if (!self->other || !trammel_test_piece_find (self->other, &self->reading))
    {
      g_clear_pointer (&self->other, trammel_test_piece_free);
      self->other = other_piece_with (self->machine, &self->reading);
    }
  if (!self->other)
    return self->piece;
  *feature = trammel_test_piece_find (self->other, &self->reading);
  return self->other;
}

static void
describe (TrammelPieceView *self)
{
  g_autofree char *words = self->has_reading && self->reading.has_along
                               ? trammel_piece_reading_to_words (&self->reading, self->unit)
                               : g_strdup (_ ("The test piece"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

void
trammel_piece_view_show (TrammelPieceView *self, const TrammelMachine *machine, const TrammelReading *reading,
                         gboolean all_dimensions)
{
  g_return_if_fail (TRAMMEL_IS_PIECE_VIEW (self));
  g_return_if_fail (machine != NULL);

  if (shows_already (self, machine, reading, all_dimensions))
    return;
  if (needs_layout (self, machine))
    lay_out (self, machine);
  drop_reading (self);
  if (reading)
    {
      trammel_reading_copy (reading, &self->reading);
      self->has_reading = TRUE;
    }
  self->unit = trammel_machine_display_unit (machine);
  self->all_dimensions = all_dimensions;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const TrammelTestPiece *
trammel_piece_view_piece (TrammelPieceView *self, GError **error)
{
  g_return_val_if_fail (TRAMMEL_IS_PIECE_VIEW (self), NULL);
  if (!self->piece && self->error && error)
    *error = g_error_copy (self->error);
  return self->piece;
}

/* The drawing has no ground of its own, so texts in it are cleared with the page's. */
static TrammelColor
ground_of (GtkWidget *widget, TrammelColor otherwise)
{
  GdkRGBA color;
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "theme_bg_color", &color))
    return otherwise;
  return (TrammelColor){ color.red, color.green, color.blue };
}

static void
trammel_piece_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelPieceView *self = TRAMMEL_PIECE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  g_autofree char *font
      = pango_font_description_to_string (pango_context_get_font_description (gtk_widget_get_pango_context (widget)));
  const TrammelFeature *feature;
  const TrammelTestPiece *piece = piece_to_show (self, &feature);
  TrammelPieceLook look = { .feature = feature,
                            .reading = self->has_reading && self->reading.has_along ? &self->reading : NULL,
                            .unit = self->unit,
                            .all_dimensions = self->all_dimensions,
                            .font = font };
  TrammelPalette palette = *trammel_palette (trammel_window_is_dark (widget));
  palette.ground = ground_of (widget, palette.ground);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float)width, (float)height));
  trammel_piece_paint (cr, width, height, piece, &palette, &look);
  cairo_destroy (cr);
}

static void
trammel_piece_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  *minimum = 160;
  *natural = 260;
}

/* Of the machine's piece, when that is what is shown. */
static const TrammelFeature *
feature_at (TrammelPieceView *self, double x, double y)
{
  const TrammelFeature *shown;
  if (!self->piece || piece_to_show (self, &shown) != self->piece)
    return NULL;
  return trammel_piece_feature_at (self->piece, gtk_widget_get_width (GTK_WIDGET (self)),
                                   gtk_widget_get_height (GTK_WIDGET (self)), x, y);
}

static void
released (GtkGestureClick *gesture, int n, double x, double y, TrammelPieceView *self)
{
  const TrammelFeature *feature = feature_at (self, x, y);
  if (feature)
    g_signal_emit (self, signals[PICKED], 0, feature);
}

static gboolean
show_tooltip (TrammelPieceView *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const TrammelFeature *feature = keyboard ? NULL : feature_at (self, x, y);
  if (!feature)
    return FALSE;
  gtk_tooltip_set_text (tooltip, feature->name);
  return TRUE;
}

static void
trammel_piece_view_dispose (GObject *object)
{
  TrammelPieceView *self = TRAMMEL_PIECE_VIEW (object);
  drop_reading (self);
  g_clear_pointer (&self->machine, trammel_machine_unref);
  g_clear_pointer (&self->piece, trammel_test_piece_free);
  g_clear_pointer (&self->other, trammel_test_piece_free);
  g_clear_error (&self->error);
  G_OBJECT_CLASS (trammel_piece_view_parent_class)->dispose (object);
}

static void
trammel_piece_view_class_init (TrammelPieceViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_piece_view_dispose;
  widget_class->snapshot = trammel_piece_view_snapshot;
  widget_class->measure = trammel_piece_view_measure;
  gtk_widget_class_set_css_name (widget_class, "pieceview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  signals[PICKED] = g_signal_new ("picked", TRAMMEL_TYPE_PIECE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void
trammel_piece_view_init (TrammelPieceView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "released", G_CALLBACK (released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (show_tooltip), NULL);
}
