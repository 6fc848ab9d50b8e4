/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/train-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/palette.h"
#include "draw/train-drawing.h"
#include "window/appearance.h"

#define TURNS_PER_ARROW (1.0 / 36)
#define TURNS_PER_NOTCH (1.0 / 36)
#define PIXELS_PER_TURN 240.0
#define TURNS_PER_SECOND 0.25

struct _TrammelTrainView
{
  GtkWidget parent_instance;

  TrammelAxis *axis;
  TrammelTrainDrawing *drawing;
  int selected_part;
  double turns;
  double turns_before_drag;
  guint tick;
  gint64 last_frame;
};

G_DEFINE_FINAL_TYPE (TrammelTrainView, trammel_train_view, GTK_TYPE_WIDGET)

enum
{
  PART_SELECTED,
  TURNED,
  PLAYING_CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
update_description (TrammelTrainView *self)
{
  g_autofree char *words = self->axis ? trammel_train_to_words (trammel_axis_train (self->axis)) : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Drawing of the train"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words ? words : "", -1);
}

void
trammel_train_view_set_axis (TrammelTrainView *self, const TrammelAxis *axis)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self));
  if (self->axis == axis)
    return;

  /* The drawing depends on the train and on the travel only. */
  double before = self->axis ? trammel_axis_travel_value (self->axis) : NAN;
  double now = axis ? trammel_axis_travel_value (axis) : NAN;
  gboolean same_train = self->axis && axis && (before == now || (isnan (before) && isnan (now)))
                        && trammel_train_equal (trammel_axis_train (self->axis), trammel_axis_train (axis));
  g_clear_pointer (&self->axis, trammel_axis_unref);
  self->axis = axis ? trammel_axis_ref (axis) : NULL;
  if (!same_train)
    {
      g_clear_pointer (&self->drawing, trammel_train_drawing_free);
      update_description (self);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_train_view_set_selected_part (TrammelTrainView *self, int part)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self));
  if (self->selected_part == part)
    return;
  self->selected_part = part;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
trammel_train_view_turns (TrammelTrainView *self)
{
  g_return_val_if_fail (TRAMMEL_IS_TRAIN_VIEW (self), 0);
  return self->turns;
}

void
trammel_train_view_set_turns (TrammelTrainView *self, double turns)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self));
  self->turns = turns;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[TURNED], 0);
}

gboolean
trammel_train_view_is_playing (TrammelTrainView *self)
{
  g_return_val_if_fail (TRAMMEL_IS_TRAIN_VIEW (self), FALSE);
  return self->tick != 0;
}

static gboolean
turn_with_the_clock (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  gint64 elapsed = self->last_frame ? now - self->last_frame : 0;

  /* Where the desktop asks for little motion, a still every half second instead of a film. */
  gboolean film = TRUE;
  g_object_get (gtk_widget_get_settings (widget), "gtk-enable-animations", &film, NULL);
  if (!film && self->last_frame && elapsed < G_USEC_PER_SEC / 2)
    return G_SOURCE_CONTINUE;

  self->last_frame = now;
  trammel_train_view_set_turns (self, self->turns + TURNS_PER_SECOND * elapsed / G_USEC_PER_SEC);
  return G_SOURCE_CONTINUE;
}

void
trammel_train_view_set_playing (TrammelTrainView *self, gboolean playing)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self));
  if (playing == (self->tick != 0))
    return;
  if (playing)
    {
      self->last_frame = 0;
      self->tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), turn_with_the_clock, NULL, NULL);
    }
  else
    {
      gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick);
      self->tick = 0;
    }
  g_signal_emit (self, signals[PLAYING_CHANGED], 0);
}

static TrammelTrainDrawing *
current_drawing (TrammelTrainView *self)
{
  if (!self->drawing && self->axis)
    self->drawing = trammel_train_drawing_new (trammel_axis_train (self->axis), trammel_axis_travel_value (self->axis));
  return self->drawing;
}

static void
trammel_train_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  const TrammelPalette *palette = trammel_palette (trammel_window_is_dark (widget));
  TrammelTrainDrawing *drawing = current_drawing (self);
  if (!drawing || width <= 0 || height <= 0)
    return;

  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  trammel_train_drawing_paint (drawing, cr, width, height, self->turns, palette, trammel_axis_letter (self->axis),
                               self->selected_part);
  cairo_destroy (cr);
}

static void
trammel_train_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 180;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : 300;
  *minimum_baseline = *natural_baseline = -1;
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelTrainView *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_Down:
      trammel_train_view_set_turns (self, self->turns - TURNS_PER_ARROW);
      return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_Up:
      trammel_train_view_set_turns (self, self->turns + TURNS_PER_ARROW);
      return TRUE;
    case GDK_KEY_Page_Down:
      trammel_train_view_set_turns (self, self->turns - 1);
      return TRUE;
    case GDK_KEY_Page_Up:
      trammel_train_view_set_turns (self, self->turns + 1);
      return TRUE;
    case GDK_KEY_Home:
      trammel_train_view_set_turns (self, 0);
      return TRUE;
    case GDK_KEY_space:
      trammel_train_view_set_playing (self, self->tick == 0);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
scrolled (GtkEventControllerScroll *controller, double dx, double dy, TrammelTrainView *self)
{
  trammel_train_view_set_turns (self, self->turns + (dx - dy) * TURNS_PER_NOTCH);
  return TRUE;
}

static void
drag_began (GtkGestureDrag *gesture, double x, double y, TrammelTrainView *self)
{
  self->turns_before_drag = self->turns;
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
drag_moved (GtkGestureDrag *gesture, double dx, double dy, TrammelTrainView *self)
{
  if (ABS (dx) > 3)
    trammel_train_view_set_turns (self, self->turns_before_drag + dx / PIXELS_PER_TURN);
}

static void
drag_ended (GtkGestureDrag *gesture, double dx, double dy, TrammelTrainView *self)
{
  double x, y;
  TrammelTrainDrawing *drawing = current_drawing (self);
  if (!drawing || ABS (dx) > 3 || ABS (dy) > 3 || !gtk_gesture_drag_get_start_point (gesture, &x, &y))
    return;
  int part = trammel_train_drawing_part_at (drawing, gtk_widget_get_width (GTK_WIDGET (self)),
                                            gtk_widget_get_height (GTK_WIDGET (self)), x, y);
  if (part >= 0)
    g_signal_emit (self, signals[PART_SELECTED], 0, part);
}

static void
trammel_train_view_unmap (GtkWidget *widget)
{
  trammel_train_view_set_playing (TRAMMEL_TRAIN_VIEW (widget), FALSE);
  GTK_WIDGET_CLASS (trammel_train_view_parent_class)->unmap (widget);
}

static void
trammel_train_view_finalize (GObject *object)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (object);
  g_clear_pointer (&self->drawing, trammel_train_drawing_free);
  g_clear_pointer (&self->axis, trammel_axis_unref);
  G_OBJECT_CLASS (trammel_train_view_parent_class)->finalize (object);
}

static void
trammel_train_view_class_init (TrammelTrainViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = trammel_train_view_finalize;
  widget_class->snapshot = trammel_train_view_snapshot;
  widget_class->measure = trammel_train_view_measure;
  widget_class->unmap = trammel_train_view_unmap;
  gtk_widget_class_set_css_name (widget_class, "trainview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);

  signals[PART_SELECTED] = g_signal_new ("part-selected", TRAMMEL_TYPE_TRAIN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                         NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[TURNED]
      = g_signal_new ("turned", TRAMMEL_TYPE_TRAIN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PLAYING_CHANGED] = g_signal_new ("playing-changed", TRAMMEL_TYPE_TRAIN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                           NULL, G_TYPE_NONE, 0);
}

static void
trammel_train_view_init (TrammelTrainView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  self->selected_part = -1;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  update_description (self);

  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (widget, keys);

  GtkEventController *wheel = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect (wheel, "scroll", G_CALLBACK (scrolled), self);
  gtk_widget_add_controller (widget, wheel);

  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_began), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_moved), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_ended), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
}
