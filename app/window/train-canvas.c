/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/train-canvas.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/palette.h"
#include "draw/train-drawing.h"
#include "window/appearance.h"
#include "window/pixels.h"

#define TURNS_PER_ARROW (1.0 / 36)
#define TURNS_PER_NOTCH (1.0 / 36)
#define PIXELS_PER_TURN 240.0
#define ORDINARY_SPEED 0.25
#define ZOOM_STEP 1.25
#define ZOOM_PER_NOTCH 1.15
#define PAN_PIXELS 40.0

struct _TrammelTrainCanvas
{
  GtkWidget parent_instance;

  TrammelAxis *axis;
  const TrammelUnit *unit;
  TrammelTrainDrawing *drawing;
  TrammelTrainPicture picture;
  double turns_before_drag;
  double panned_x, panned_y; /* of the drag so far */
  gboolean drag_pans;
  double zoom_before_pinch;
  double pointer_x, pointer_y;
  double speed;
  guint tick;
  gint64 last_frame;
};

G_DEFINE_FINAL_TYPE (TrammelTrainCanvas, trammel_train_canvas, GTK_TYPE_WIDGET)

enum
{
  PART_SELECTED,
  TURNED,
  PLAYING_CHANGED,
  ZOOMED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
update_description (TrammelTrainCanvas *self)
{
  g_autofree char *words = self->axis ? trammel_train_to_words (trammel_axis_train (self->axis)) : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Drawing of the train"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words ? words : "", -1);
}

static TrammelTrainDrawing *
current_drawing (TrammelTrainCanvas *self)
{
  if (!self->drawing && self->axis)
    self->drawing = trammel_train_drawing_new (trammel_axis_train (self->axis), trammel_axis_travel_value (self->axis),
                                               self->unit);
  return self->drawing;
}

void
trammel_train_canvas_fit (TrammelTrainCanvas *self)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  self->picture.zoom = 1;
  self->picture.pan_x = self->picture.pan_y = 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[ZOOMED], 0);
}

void
trammel_train_canvas_set_axis (TrammelTrainCanvas *self, const TrammelAxis *axis, const TrammelUnit *unit)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  if (self->axis == axis && self->unit == unit)
    return;

  /* The drawing depends on the train and on the travel only. */
  double before = self->axis ? trammel_axis_travel_value (self->axis) : NAN;
  double now = axis ? trammel_axis_travel_value (axis) : NAN;
  gboolean same_train = self->axis && axis && self->unit == unit && (before == now || (isnan (before) && isnan (now)))
                        && trammel_train_equal (trammel_axis_train (self->axis), trammel_axis_train (axis));
  if (!self->axis || !axis || trammel_axis_letter (self->axis) != trammel_axis_letter (axis))
    trammel_train_canvas_fit (self);
  g_clear_pointer (&self->axis, trammel_axis_unref);
  self->axis = axis ? trammel_axis_ref (axis) : NULL;
  self->unit = unit;
  if (!same_train)
    {
      g_clear_pointer (&self->drawing, trammel_train_drawing_free);
      update_description (self);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_train_canvas_set_selected_part (TrammelTrainCanvas *self, int part)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  if (self->picture.selected_part == part)
    return;
  self->picture.selected_part = part;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
trammel_train_canvas_turns (TrammelTrainCanvas *self)
{
  g_return_val_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self), 0);
  return self->picture.motor_turns;
}

void
trammel_train_canvas_set_turns (TrammelTrainCanvas *self, double turns)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  self->picture.motor_turns = turns;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[TURNED], 0);
}

gboolean
trammel_train_canvas_is_playing (TrammelTrainCanvas *self)
{
  g_return_val_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self), FALSE);
  return self->tick != 0;
}

static gboolean
turn_with_the_clock (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TrammelTrainCanvas *self = TRAMMEL_TRAIN_CANVAS (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  gint64 elapsed = self->last_frame ? now - self->last_frame : 0;

  gboolean film = TRUE;
  g_object_get (gtk_widget_get_settings (widget), "gtk-enable-animations", &film, NULL);
  if (!film && self->last_frame && elapsed < G_USEC_PER_SEC / 2)
    return G_SOURCE_CONTINUE;

  self->last_frame = now;
  trammel_train_canvas_set_turns (self, self->picture.motor_turns + self->speed * elapsed / G_USEC_PER_SEC);
  return G_SOURCE_CONTINUE;
}

void
trammel_train_canvas_set_playing (TrammelTrainCanvas *self, gboolean playing)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
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

/* The picture as the widget is now. */
static const TrammelTrainPicture *
current_picture (TrammelTrainCanvas *self)
{
  self->picture.width = gtk_widget_get_width (GTK_WIDGET (self));
  self->picture.height = gtk_widget_get_height (GTK_WIDGET (self));
  self->picture.palette = trammel_palette (trammel_window_is_dark (GTK_WIDGET (self)));
  self->picture.axis_letter = self->axis ? trammel_axis_letter (self->axis) : 0;
  return &self->picture;
}

gboolean
trammel_train_canvas_picture (TrammelTrainCanvas *self, TrammelTrainDrawing **drawing, TrammelTrainPicture *picture)
{
  g_return_val_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self), FALSE);
  *drawing = current_drawing (self);
  *picture = *current_picture (self);
  picture->palette = trammel_palette (FALSE);
  picture->selected_part = -1;
  return *drawing && picture->width > 0 && picture->height > 0;
}

void
trammel_train_canvas_set_dimensions (TrammelTrainCanvas *self, gboolean dimensions)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  self->picture.dimensions = dimensions;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_train_canvas_set_speed (TrammelTrainCanvas *self, double speed)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  self->speed = speed;
}

static void
zoom_at (TrammelTrainCanvas *self, double factor, double x, double y)
{
  TrammelTrainDrawing *drawing = current_drawing (self);
  if (!drawing || !(factor > 0))
    return;
  current_picture (self);
  trammel_train_drawing_zoom (drawing, &self->picture, factor, x, y);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[ZOOMED], 0);
}

void
trammel_train_canvas_zoom (TrammelTrainCanvas *self, double factor)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_CANVAS (self));
  zoom_at (self, factor, gtk_widget_get_width (GTK_WIDGET (self)) / 2.0,
           gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
}

static void
pan (TrammelTrainCanvas *self, double dx, double dy)
{
  TrammelTrainDrawing *drawing = current_drawing (self);
  if (!drawing)
    return;
  current_picture (self);
  trammel_train_drawing_move (drawing, &self->picture, dx, dy);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
trammel_train_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelTrainCanvas *self = TRAMMEL_TRAIN_CANVAS (widget);
  const TrammelTrainPicture *picture = current_picture (self);
  TrammelTrainDrawing *drawing = current_drawing (self);
  if (!drawing || picture->width <= 0 || picture->height <= 0)
    return;

  TrammelPixels pixels = trammel_pixels_begin (widget, (int)ceil (picture->width), (int)ceil (picture->height));
  trammel_train_drawing_paint (drawing, pixels.cr, picture);
  trammel_pixels_append (&pixels, snapshot);
}

static void
trammel_train_canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                              int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 320 : 180;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : 300;
  *minimum_baseline = *natural_baseline = -1;
}

/* Along the train, from the motor to the output. */
static void
select_part_beside (TrammelTrainCanvas *self, int by)
{
  if (!self->axis)
    return;
  int last = (int)trammel_train_n_stages (trammel_axis_train (self->axis)) + 1;
  int part = self->picture.selected_part < 0 ? (by > 0 ? 0 : last) : self->picture.selected_part + by;
  if (part >= 0 && part <= last)
    g_signal_emit (self, signals[PART_SELECTED], 0, part);
}

static gboolean
pan_by_key (TrammelTrainCanvas *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_Left:
      pan (self, PAN_PIXELS, 0);
      return TRUE;
    case GDK_KEY_Right:
      pan (self, -PAN_PIXELS, 0);
      return TRUE;
    case GDK_KEY_Up:
      pan (self, 0, PAN_PIXELS);
      return TRUE;
    case GDK_KEY_Down:
      pan (self, 0, -PAN_PIXELS);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
zoom_by_key (TrammelTrainCanvas *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      trammel_train_canvas_zoom (self, ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      trammel_train_canvas_zoom (self, 1 / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      trammel_train_canvas_fit (self);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
turn_by_key (TrammelTrainCanvas *self, guint key)
{
  double turns = self->picture.motor_turns;
  switch (key)
    {
    case GDK_KEY_Down:
      trammel_train_canvas_set_turns (self, turns - TURNS_PER_ARROW);
      return TRUE;
    case GDK_KEY_Up:
      trammel_train_canvas_set_turns (self, turns + TURNS_PER_ARROW);
      return TRUE;
    case GDK_KEY_Page_Down:
      trammel_train_canvas_set_turns (self, turns - 1);
      return TRUE;
    case GDK_KEY_Page_Up:
      trammel_train_canvas_set_turns (self, turns + 1);
      return TRUE;
    case GDK_KEY_Home:
      trammel_train_canvas_set_turns (self, 0);
      return TRUE;
    case GDK_KEY_space:
      trammel_train_canvas_set_playing (self, self->tick == 0);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelTrainCanvas *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  if (state & GDK_SHIFT_MASK && pan_by_key (self, key))
    return TRUE;
  if (key == GDK_KEY_Left || key == GDK_KEY_Right)
    {
      select_part_beside (self, key == GDK_KEY_Left ? -1 : 1);
      return TRUE;
    }
  return zoom_by_key (self, key) || turn_by_key (self, key);
}

static void
pointer_moved (GtkEventControllerMotion *controller, double x, double y, TrammelTrainCanvas *self)
{
  self->pointer_x = x;
  self->pointer_y = y;
}

static gboolean
scrolled (GtkEventControllerScroll *controller, double dx, double dy, TrammelTrainCanvas *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  if (state & GDK_CONTROL_MASK)
    zoom_at (self, pow (ZOOM_PER_NOTCH, -dy), self->pointer_x, self->pointer_y);
  else
    trammel_train_canvas_set_turns (self, self->picture.motor_turns + (dx - dy) * TURNS_PER_NOTCH);
  return TRUE;
}

static void
pinch_began (GtkGesture *gesture, GdkEventSequence *sequence, TrammelTrainCanvas *self)
{
  self->zoom_before_pinch = self->picture.zoom;
}

static void
pinched (GtkGestureZoom *gesture, double scale, TrammelTrainCanvas *self)
{
  double x, y;
  if (gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y))
    zoom_at (self, self->zoom_before_pinch * scale / self->picture.zoom, x, y);
}

static void
drag_began (GtkGestureDrag *gesture, double x, double y, TrammelTrainCanvas *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  self->drag_pans = button == GDK_BUTTON_MIDDLE || state & GDK_SHIFT_MASK;
  self->turns_before_drag = self->picture.motor_turns;
  self->panned_x = self->panned_y = 0;
  if (button != GDK_BUTTON_PRIMARY && button != GDK_BUTTON_MIDDLE)
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
  if (self->drag_pans)
    gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
drag_moved (GtkGestureDrag *gesture, double dx, double dy, TrammelTrainCanvas *self)
{
  if (self->drag_pans)
    {
      pan (self, dx - self->panned_x, dy - self->panned_y);
      self->panned_x = dx;
      self->panned_y = dy;
    }
  else if (ABS (dx) > 3)
    trammel_train_canvas_set_turns (self, self->turns_before_drag + dx / PIXELS_PER_TURN);
}

static void
drag_ended (GtkGestureDrag *gesture, double dx, double dy, TrammelTrainCanvas *self)
{
  double x, y;
  TrammelTrainDrawing *drawing = current_drawing (self);
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  if (!drawing || self->drag_pans || ABS (dx) > 3 || ABS (dy) > 3
      || !gtk_gesture_drag_get_start_point (gesture, &x, &y))
    return;
  int part = trammel_train_drawing_part_at (drawing, current_picture (self), x, y);
  if (part >= 0)
    g_signal_emit (self, signals[PART_SELECTED], 0, part);
}

static void
trammel_train_canvas_unmap (GtkWidget *widget)
{
  trammel_train_canvas_set_playing (TRAMMEL_TRAIN_CANVAS (widget), FALSE);
  GTK_WIDGET_CLASS (trammel_train_canvas_parent_class)->unmap (widget);
}

static void
trammel_train_canvas_finalize (GObject *object)
{
  TrammelTrainCanvas *self = TRAMMEL_TRAIN_CANVAS (object);
  g_clear_pointer (&self->drawing, trammel_train_drawing_free);
  g_clear_pointer (&self->axis, trammel_axis_unref);
  G_OBJECT_CLASS (trammel_train_canvas_parent_class)->finalize (object);
}

static void
trammel_train_canvas_class_init (TrammelTrainCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = trammel_train_canvas_finalize;
  widget_class->snapshot = trammel_train_canvas_snapshot;
  widget_class->measure = trammel_train_canvas_measure;
  widget_class->unmap = trammel_train_canvas_unmap;
  gtk_widget_class_set_css_name (widget_class, "traincanvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);

  signals[PART_SELECTED] = g_signal_new ("part-selected", TRAMMEL_TYPE_TRAIN_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                         NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[TURNED]
      = g_signal_new ("turned", TRAMMEL_TYPE_TRAIN_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PLAYING_CHANGED] = g_signal_new ("playing-changed", TRAMMEL_TYPE_TRAIN_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL,
                                           NULL, NULL, G_TYPE_NONE, 0);
  signals[ZOOMED]
      = g_signal_new ("zoomed", TRAMMEL_TYPE_TRAIN_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_train_canvas_init (TrammelTrainCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  self->picture.selected_part = -1;
  self->picture.zoom = 1;
  self->speed = ORDINARY_SPEED;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  update_description (self);

  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (widget, keys);

  GtkEventController *wheel = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect (wheel, "scroll", G_CALLBACK (scrolled), self);
  gtk_widget_add_controller (widget, wheel);

  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "motion", G_CALLBACK (pointer_moved), self);
  gtk_widget_add_controller (widget, motion);

  GtkGesture *pinch = gtk_gesture_zoom_new ();
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_began), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinched), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (pinch));

  GtkGesture *drag = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_began), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_moved), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_ended), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
}
