/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-badge.h"

#include "draw/palette.h"
#include "window/appearance.h"

#define SIZE 36
#define CORNER 8

struct _TrammelAxisBadge
{
  GtkWidget parent_instance;
  char letter;
};

G_DEFINE_FINAL_TYPE (TrammelAxisBadge, trammel_axis_badge, GTK_TYPE_WIDGET)

void
trammel_axis_badge_set_letter (TrammelAxisBadge *self, char letter)
{
  g_return_if_fail (TRAMMEL_IS_AXIS_BADGE (self));
  self->letter = letter;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
trammel_axis_badge_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TrammelAxisBadge *self = TRAMMEL_AXIS_BADGE (widget);
  gboolean dark = trammel_window_is_dark (widget);
  const TrammelPalette *palette = trammel_palette (dark);
  TrammelColor color = trammel_palette_axis (palette, self->letter);
  /* The axis colors are dark on light ground and light on dark: the letter takes the ground's side */
  GdkRGBA fill = { (float)color.r, (float)color.g, (float)color.b, 1 };
  GdkRGBA ink = dark ? (GdkRGBA){ 0.08f, 0.08f, 0.08f, 1 } : (GdkRGBA){ 1, 1, 1, 1 };
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  GskRoundedRect shape;
  gsk_rounded_rect_init_from_rect (&shape, &GRAPHENE_RECT_INIT (0, 0, (float)width, (float)height), CORNER);
  gtk_snapshot_push_rounded_clip (snapshot, &shape);
  gtk_snapshot_append_color (snapshot, &fill, &shape.bounds);
  gtk_snapshot_pop (snapshot);

  int text_width, text_height;
  const char text[] = { self->letter, '\0' };
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, text);
  pango_layout_get_pixel_size (layout, &text_width, &text_height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float)(width - text_width) / 2, (float)(height - text_height) / 2));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
  gtk_snapshot_restore (snapshot);
}

static void
trammel_axis_badge_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = SIZE;
}

static void
trammel_axis_badge_class_init (TrammelAxisBadgeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  widget_class->snapshot = trammel_axis_badge_snapshot;
  widget_class->measure = trammel_axis_badge_measure;
  gtk_widget_class_set_css_name (widget_class, "badge");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
trammel_axis_badge_init (TrammelAxisBadge *self)
{
}
