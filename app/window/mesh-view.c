/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/mesh-view.h"

#include "window/appearance.h"

struct _TrammelMeshView
{
  GtkWidget parent_instance;

  gboolean has_picture;
  TrammelMeshPicture picture;
  char letter;
};

G_DEFINE_FINAL_TYPE (TrammelMeshView, trammel_mesh_view, GTK_TYPE_WIDGET)

static guint picked_signal;

void
trammel_mesh_view_show (TrammelMeshView *self, const TrammelMeshPicture *picture, char letter, const char *words)
{
  g_return_if_fail (TRAMMEL_IS_MESH_VIEW (self));

  self->has_picture = picture != NULL;
  if (picture)
    self->picture = *picture;
  self->letter = letter;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words ? words : "", -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
trammel_mesh_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelMeshView *self = TRAMMEL_MESH_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (!self->has_picture)
    return;
  const TrammelPalette *palette = trammel_palette (trammel_window_is_dark (widget));
  g_autofree char *font
      = pango_font_description_to_string (pango_context_get_font_description (gtk_widget_get_pango_context (widget)));
  TrammelMeshPicture picture = self->picture;
  picture.font = font;
  picture.accent = trammel_palette_axis (palette, self->letter);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float)width, (float)height));
  trammel_mesh_drawing_paint (cr, width, height, &picture, palette);
  cairo_destroy (cr);
}

static void
trammel_mesh_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  *minimum = 220;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 340 : 270;
}

static void
released (GtkGestureClick *gesture, int n, double x, double y, TrammelMeshView *self)
{
  if (!self->has_picture)
    return;
  gssize offset = trammel_mesh_drawing_offset_at (&self->picture, gtk_widget_get_width (GTK_WIDGET (self)),
                                                  gtk_widget_get_height (GTK_WIDGET (self)), x, y);
  if (offset >= 0)
    g_signal_emit (self, picked_signal, 0, (guint)offset);
}

static void
trammel_mesh_view_class_init (TrammelMeshViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = trammel_mesh_view_snapshot;
  widget_class->measure = trammel_mesh_view_measure;
  gtk_widget_class_set_css_name (widget_class, "meshview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  picked_signal = g_signal_new ("picked", TRAMMEL_TYPE_MESH_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                1, G_TYPE_UINT);
}

static void
trammel_mesh_view_init (TrammelMeshView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "released", G_CALLBACK (released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}
