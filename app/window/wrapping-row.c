/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/wrapping-row.h"

#define SPACING 6

struct _TrammelWrappingRow
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (TrammelWrappingRow, trammel_wrapping_row, GTK_TYPE_WIDGET)

static GtkWidget *
shown_child (GtkWidget *child)
{
  while (child && !gtk_widget_should_layout (child))
    child = gtk_widget_get_next_sibling (child);
  return child;
}

static GtkWidget *
first_shown (GtkWidget *widget)
{
  return shown_child (gtk_widget_get_first_child (widget));
}

static GtkWidget *
next_shown (GtkWidget *child)
{
  return shown_child (gtk_widget_get_next_sibling (child));
}

static int
natural_width (GtkWidget *child)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static int
natural_height (GtkWidget *child)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

/* The child that the row beginning with @first does not hold any more, NULL after the last; @height gets the row's. */
static GtkWidget *
end_of_row (GtkWidget *first, int width, int *height)
{
  GtkWidget *child = first;
  int x = 0;

  *height = 0;
  do
    {
      *height = MAX (*height, natural_height (child));
      x += natural_width (child) + SPACING;
      child = next_shown (child);
    }
  while (child && x + natural_width (child) <= width);
  return child;
}

static int
height_for_width (GtkWidget *widget, int width)
{
  int height = 0, of_row;

  for (GtkWidget *child = first_shown (widget); child;)
    {
      child = end_of_row (child, width, &of_row);
      height += of_row + (child ? SPACING : 0);
    }
  return height;
}

static void
measure_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = *natural = 0;
  for (GtkWidget *child = first_shown (widget); child; child = next_shown (child))
    {
      int width = natural_width (child);

      *minimum = MAX (*minimum, width);
      *natural += width + (*natural > 0 ? SPACING : 0);
    }
}

static void
trammel_wrapping_row_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                              int *minimum_baseline, int *natural_baseline)
{
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    measure_width (widget, minimum, natural);
  else
    *minimum = *natural = height_for_width (widget, for_size < 0 ? G_MAXINT : for_size);
}

static void
trammel_wrapping_row_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  const gboolean from_right = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  GtkWidget *child = first_shown (widget);
  int y = 0;

  while (child)
    {
      int of_row;
      GtkWidget *end = end_of_row (child, width, &of_row);

      for (int x = 0; child != end; child = next_shown (child))
        {
          int own = MIN (natural_width (child), width);

          gtk_widget_size_allocate (child, &(GtkAllocation){ from_right ? width - x - own : x, y, own, of_row }, -1);
          x += own + SPACING;
        }
      y += of_row + SPACING;
    }
}

static GtkSizeRequestMode
trammel_wrapping_row_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
trammel_wrapping_row_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (trammel_wrapping_row_parent_class)->dispose (object);
}

static void
trammel_wrapping_row_class_init (TrammelWrappingRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_wrapping_row_dispose;
  widget_class->measure = trammel_wrapping_row_measure;
  widget_class->size_allocate = trammel_wrapping_row_size_allocate;
  widget_class->get_request_mode = trammel_wrapping_row_get_request_mode;
}

static void
trammel_wrapping_row_init (TrammelWrappingRow *self)
{
}
