/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/columns.h"

#define START_PART 0.42 /* of the width, when side by side */

struct _TrammelColumns
{
  GtkWidget parent_instance;

  GtkWidget *start, *end, *below;
  int wide_from;
  int spacing;
};

G_DEFINE_FINAL_TYPE (TrammelColumns, trammel_columns, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_START,
  PROP_END,
  PROP_BELOW,
  PROP_WIDE_FROM,
  PROP_SPACING,
  N_PROPERTIES
};
static GParamSpec *properties[N_PROPERTIES];

static gboolean
is_wide (TrammelColumns *self, int width)
{
  return width >= self->wide_from;
}

static int
start_width (TrammelColumns *self, int width)
{
  return is_wide (self, width) ? (int)((width - self->spacing) * START_PART) : width;
}

static int
end_width (TrammelColumns *self, int width)
{
  return is_wide (self, width) ? width - self->spacing - start_width (self, width) : width;
}

static void
size_of (GtkWidget *child, GtkOrientation orientation, int for_size, int *minimum, int *natural)
{
  *minimum = *natural = 0;
  if (child && gtk_widget_should_layout (child))
    gtk_widget_measure (child, orientation, for_size, minimum, natural, NULL, NULL);
}

static int
least (GtkWidget *child, GtkOrientation orientation, int for_size)
{
  int minimum, natural;
  size_of (child, orientation, for_size, &minimum, &natural);
  return minimum;
}

static int
good (GtkWidget *child, GtkOrientation orientation, int for_size)
{
  int minimum, natural;
  size_of (child, orientation, for_size, &minimum, &natural);
  return natural;
}

/* In two columns `end` has the height it likes best; in one, no more than it needs. */
static int
end_height (TrammelColumns *self, int width)
{
  return is_wide (self, width) ? good (self->end, GTK_ORIENTATION_VERTICAL, end_width (self, width))
                               : least (self->end, GTK_ORIENTATION_VERTICAL, width);
}

static int
gap_after (TrammelColumns *self, int height)
{
  return height > 0 ? self->spacing : 0;
}

static int
height_in (TrammelColumns *self, int width)
{
  int start = least (self->start, GTK_ORIENTATION_VERTICAL, start_width (self, width));
  int below = least (self->below, GTK_ORIENTATION_VERTICAL, end_width (self, width));
  int end = end_height (self, width);

  if (is_wide (self, width))
    return MAX (start, end + gap_after (self, end) + below);
  return end + gap_after (self, end) + start + gap_after (self, start) + below;
}

static void
place (GtkWidget *child, int x, int y, int width, int height)
{
  GtkAllocation box = { x, y, width, height };
  if (child && gtk_widget_should_layout (child))
    gtk_widget_size_allocate (child, &box, -1);
}

static GtkSizeRequestMode
trammel_columns_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
trammel_columns_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  TrammelColumns *self = TRAMMEL_COLUMNS (widget);
  int narrow = MAX (
      least (self->start, GTK_ORIENTATION_HORIZONTAL, -1),
      MAX (least (self->end, GTK_ORIENTATION_HORIZONTAL, -1), least (self->below, GTK_ORIENTATION_HORIZONTAL, -1)));

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = *natural = narrow;
  else
    *minimum = *natural = height_in (self, MAX (for_size, narrow));
  *minimum_baseline = *natural_baseline = -1;
}

static void
trammel_columns_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TrammelColumns *self = TRAMMEL_COLUMNS (widget);
  gboolean wide = is_wide (self, width), rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int first = start_width (self, width), second = end_width (self, width);
  int top = end_height (self, width), under = top + gap_after (self, top);
  int start_x = wide && rtl ? second + self->spacing : 0, end_x = wide && !rtl ? first + self->spacing : 0;
  int start_height = wide ? height : least (self->start, GTK_ORIENTATION_VERTICAL, width);
  int below_y = wide ? under : under + start_height + gap_after (self, start_height);

  place (self->end, end_x, 0, second, top);
  place (self->start, start_x, wide ? 0 : under, first, start_height);
  place (self->below, end_x, below_y, second, MAX (height - below_y, 0));
}

static void
replace_child (TrammelColumns *self, GtkWidget **place, GtkWidget *child)
{
  g_clear_pointer (place, gtk_widget_unparent);
  if (!child)
    return;
  *place = child;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  /* The keyboard goes through them from the top of the one column, whichever came first. */
  if (self->end)
    gtk_widget_insert_after (self->end, GTK_WIDGET (self), NULL);
  if (self->below)
    gtk_widget_insert_before (self->below, GTK_WIDGET (self), NULL);
}

static void
trammel_columns_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TrammelColumns *self = TRAMMEL_COLUMNS (object);
  switch (id)
    {
    case PROP_START:
      replace_child (self, &self->start, g_value_get_object (value));
      return;
    case PROP_END:
      replace_child (self, &self->end, g_value_get_object (value));
      return;
    case PROP_BELOW:
      replace_child (self, &self->below, g_value_get_object (value));
      return;
    case PROP_WIDE_FROM:
      self->wide_from = g_value_get_int (value);
      return;
    case PROP_SPACING:
      self->spacing = g_value_get_int (value);
      return;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
trammel_columns_dispose (GObject *object)
{
  TrammelColumns *self = TRAMMEL_COLUMNS (object);
  g_clear_pointer (&self->start, gtk_widget_unparent);
  g_clear_pointer (&self->end, gtk_widget_unparent);
  g_clear_pointer (&self->below, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_columns_parent_class)->dispose (object);
}

static void
trammel_columns_class_init (TrammelColumnsClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  const GParamFlags flags = G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS;

  object_class->set_property = trammel_columns_set_property;
  object_class->dispose = trammel_columns_dispose;
  widget_class->get_request_mode = trammel_columns_get_request_mode;
  widget_class->measure = trammel_columns_measure;
  widget_class->size_allocate = trammel_columns_size_allocate;

  properties[PROP_START] = g_param_spec_object ("start", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_END] = g_param_spec_object ("end", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_BELOW] = g_param_spec_object ("below", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_WIDE_FROM] = g_param_spec_int ("wide-from", NULL, NULL, 0, G_MAXINT, 1000, flags);
  properties[PROP_SPACING] = g_param_spec_int ("spacing", NULL, NULL, 0, G_MAXINT, 0, flags);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
trammel_columns_init (TrammelColumns *self)
{
  self->wide_from = 1000;
}
