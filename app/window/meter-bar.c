/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/meter-bar.h"

#include <math.h>

#define MARK_WIDTH 2
#define MARK_OVERHANG 3

struct _TrammelMeterBar
{
  GtkWidget parent_instance;

  GtkWidget *level;
  GtkWidget *line;
  double mark;
};

G_DEFINE_FINAL_TYPE (TrammelMeterBar, trammel_meter_bar, GTK_TYPE_WIDGET)

void
trammel_meter_bar_show (TrammelMeterBar *self, double share, double mark, gboolean beyond)
{
  g_return_if_fail (TRAMMEL_IS_METER_BAR (self));

  if (beyond)
    gtk_widget_add_css_class (self->level, "beyond");
  else
    gtk_widget_remove_css_class (self->level, "beyond");
  gtk_level_bar_set_value (GTK_LEVEL_BAR (self->level), isnan (share) ? 0 : CLAMP (share, 0, 1));
  self->mark = mark;
  gtk_widget_set_child_visible (self->line, mark >= 0 && mark <= 1);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
trammel_meter_bar_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  TrammelMeterBar *self = TRAMMEL_METER_BAR (widget);
  gtk_widget_measure (self->level, orientation, for_size, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      *minimum += 2 * MARK_OVERHANG;
      *natural += 2 * MARK_OVERHANG;
    }
}

static void
trammel_meter_bar_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TrammelMeterBar *self = TRAMMEL_METER_BAR (widget);
  gtk_widget_size_allocate (self->level, &(GtkAllocation){ 0, MARK_OVERHANG, width, height - 2 * MARK_OVERHANG }, -1);
  if (!gtk_widget_get_child_visible (self->line))
    return;

  double share = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL ? 1 - self->mark : self->mark;
  int x = CLAMP ((int)round (share * width) - MARK_WIDTH / 2, 0, MAX (width - MARK_WIDTH, 0)), least;
  gtk_widget_measure (self->line, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_size_allocate (self->line, &(GtkAllocation){ x, 0, MAX (least, MARK_WIDTH), height }, -1);
}

static void
trammel_meter_bar_dispose (GObject *object)
{
  TrammelMeterBar *self = TRAMMEL_METER_BAR (object);
  g_clear_pointer (&self->level, gtk_widget_unparent);
  g_clear_pointer (&self->line, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_meter_bar_parent_class)->dispose (object);
}

static void
trammel_meter_bar_class_init (TrammelMeterBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_meter_bar_dispose;
  widget_class->measure = trammel_meter_bar_measure;
  widget_class->size_allocate = trammel_meter_bar_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "meterbar");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_METER);
}

static void
trammel_meter_bar_init (TrammelMeterBar *self)
{
  self->mark = NAN;
  self->level = gtk_level_bar_new ();
  gtk_widget_add_css_class (self->level, "meter");
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->level), GTK_LEVEL_BAR_OFFSET_LOW);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->level), GTK_LEVEL_BAR_OFFSET_HIGH);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->level), GTK_LEVEL_BAR_OFFSET_FULL);
  gtk_widget_set_parent (self->level, GTK_WIDGET (self));
  self->line = gtk_separator_new (GTK_ORIENTATION_VERTICAL);
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
}

GtkWidget *
trammel_meter_bar_new (void)
{
  return g_object_new (TRAMMEL_TYPE_METER_BAR, NULL);
}
