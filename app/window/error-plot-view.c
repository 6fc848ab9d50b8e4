/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/error-plot-view.h"

#include <glib/gi18n.h>

#include "window/appearance.h"
#include "window/pixels.h"

#define NATURAL_WIDTH 640
#define LEAST_WIDTH 300
/* Height of width: what is needed, and what is liked best. */
#define FLAT 0.4
#define TALL 0.58
#define LEAST_HEIGHT 250
#define MOST_HEIGHT 560

struct _TrammelErrorPlotView
{
  GtkWidget parent_instance;

  TrammelErrorPlot *plot;
  TrammelErrorPanels panels;
  int selected_row;
};

G_DEFINE_FINAL_TYPE (TrammelErrorPlotView, trammel_error_plot_view, GTK_TYPE_WIDGET)

static guint row_selected_signal;

void
trammel_error_plot_view_show (TrammelErrorPlotView *self, TrammelErrorPlot *plot)
{
  g_return_if_fail (TRAMMEL_IS_ERROR_PLOT_VIEW (self));

  g_clear_pointer (&self->plot, trammel_error_plot_free);
  self->plot = plot;
  g_autofree char *words = plot ? trammel_error_plot_to_words (plot) : g_strdup ("");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Plot of errors"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_error_plot_view_set_panels (TrammelErrorPlotView *self, TrammelErrorPanels panels)
{
  g_return_if_fail (TRAMMEL_IS_ERROR_PLOT_VIEW (self));
  self->panels = panels;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_error_plot_view_set_selected_row (TrammelErrorPlotView *self, int row)
{
  g_return_if_fail (TRAMMEL_IS_ERROR_PLOT_VIEW (self));
  if (self->selected_row == row)
    return;
  self->selected_row = row;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The interface's font, in pixels, so that large text is large here too. */
static char *
font_of (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  PangoFontDescription *font = pango_font_description_copy (pango_context_get_font_description (context));
  double size = pango_font_description_get_size (font);

  if (!pango_font_description_get_size_is_absolute (font))
    size *= pango_cairo_context_get_resolution (context) / 72;
  pango_font_description_set_absolute_size (font, 0.92 * size);
  char *text = pango_font_description_to_string (font);
  pango_font_description_free (font);
  return text;
}

static void
trammel_error_plot_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelErrorPlotView *self = TRAMMEL_ERROR_PLOT_VIEW (widget);
  const int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (!self->plot || width <= 0 || height <= 0)
    return;
  const TrammelPalette *palette = trammel_palette (trammel_window_is_dark (widget));
  g_autofree char *font = font_of (widget);
  const TrammelErrorPlotLook look = { self->panels, self->selected_row, font };
  TrammelPixels pixels = trammel_pixels_begin (widget, width, height);
  trammel_color_set (pixels.cr, palette->ground, 1);
  cairo_paint (pixels.cr);
  trammel_error_plot_paint (self->plot, pixels.cr, width, height, palette, &look);
  trammel_pixels_append (&pixels, snapshot);
  if (gtk_widget_has_visible_focus (widget))
    gtk_snapshot_render_focus (snapshot, gtk_widget_get_style_context (widget), 0, 0, width, height);
}

static GtkSizeRequestMode
trammel_error_plot_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
trammel_error_plot_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  int width = for_size > 0 ? for_size : NATURAL_WIDTH;

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = LEAST_WIDTH;
      *natural = NATURAL_WIDTH;
      return;
    }
  *minimum = (int)CLAMP (width * FLAT, LEAST_HEIGHT, MOST_HEIGHT);
  *natural = (int)CLAMP (width * TALL, LEAST_HEIGHT, MOST_HEIGHT);
}

static void
choose (TrammelErrorPlotView *self, int row)
{
  if (row >= 0)
    g_signal_emit (self, row_selected_signal, 0, row);
}

static void
pressed (GtkGestureClick *click, int n_press, double x, double y, TrammelErrorPlotView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->plot)
    choose (self, trammel_error_plot_row_at (self->plot, x, y));
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
             TrammelErrorPlotView *self)
{
  if (!self->plot || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      choose (self, trammel_error_plot_neighbor (self->plot, self->selected_row, -1));
      return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      choose (self, trammel_error_plot_neighbor (self->plot, self->selected_row, 1));
      return TRUE;
    default:
      return FALSE;
    }
}

static void
trammel_error_plot_view_finalize (GObject *object)
{
  g_clear_pointer (&TRAMMEL_ERROR_PLOT_VIEW (object)->plot, trammel_error_plot_free);
  G_OBJECT_CLASS (trammel_error_plot_view_parent_class)->finalize (object);
}

static void
trammel_error_plot_view_class_init (TrammelErrorPlotViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = trammel_error_plot_view_finalize;
  widget_class->snapshot = trammel_error_plot_view_snapshot;
  widget_class->measure = trammel_error_plot_view_measure;
  widget_class->get_request_mode = trammel_error_plot_view_get_request_mode;
  gtk_widget_class_set_css_name (widget_class, "errorplot");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  row_selected_signal = g_signal_new ("row-selected", TRAMMEL_TYPE_ERROR_PLOT_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                      NULL, G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
trammel_error_plot_view_init (TrammelErrorPlotView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->selected_row = -1;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);

  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (pressed), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));

  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (widget, keys);
}
