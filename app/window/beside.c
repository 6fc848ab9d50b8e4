/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/beside.h"

#define SPACING 12
#define SIDE_SHARE 0.26 /* of the width */
#define SIDE_LEAST 260
#define SIDE_MOST 440
#define PICTURE_SHARE 0.55 /* of the height, above the words */
#define BELOW_SHARE 0.36   /* of the height, below the work */
#define BELOW_MOST 250

enum
{
  WORK,
  PICTURE,
  WORDS,
  N_CHILDREN
};

struct _TrammelBeside
{
  GtkWidget parent_instance;

  GtkWidget *children[N_CHILDREN];
  int wide_from;
};

G_DEFINE_FINAL_TYPE (TrammelBeside, trammel_beside, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_WORK,
  PROP_PICTURE,
  PROP_WORDS,
  PROP_WIDE_FROM,
  N_PROPERTIES
};
static GParamSpec *properties[N_PROPERTIES];

static int
least (TrammelBeside *self, int child, GtkOrientation orientation)
{
  int minimum = 0;
  if (self->children[child])
    gtk_widget_measure (self->children[child], orientation, -1, &minimum, NULL, NULL, NULL);
  return minimum;
}

static void
trammel_beside_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  TrammelBeside *self = TRAMMEL_BESIDE (widget);
  int work = least (self, WORK, orientation), picture = least (self, PICTURE, orientation);
  int words = least (self, WORDS, orientation);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = MAX (work, picture + SPACING + words);
  else
    *minimum = MAX (work + SPACING + MAX (picture, words), picture + SPACING + words);
  *natural = *minimum;
}

static void
place (TrammelBeside *self, int child, int x, int y, int width, int height)
{
  if (!self->children[child])
    return;
  if (gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL)
    x = gtk_widget_get_width (GTK_WIDGET (self)) - x - width;
  gtk_widget_size_allocate (self->children[child], &(GtkAllocation){ x, y, width, height }, -1);
}

static void
allocate_beside (TrammelBeside *self, int width, int height)
{
  int side = CLAMP ((int)(width * SIDE_SHARE), SIDE_LEAST, SIDE_MOST);
  int picture = MAX (MIN (side, (int)(height * PICTURE_SHARE)), least (self, PICTURE, GTK_ORIENTATION_VERTICAL));
  int x = width - side;
  place (self, WORK, 0, 0, x - SPACING, height);
  place (self, PICTURE, x, 0, side, picture);
  place (self, WORDS, x, picture + SPACING, side, height - picture - SPACING);
}

static void
allocate_below (TrammelBeside *self, int width, int height)
{
  int smallest = MAX (least (self, PICTURE, GTK_ORIENTATION_VERTICAL), least (self, WORDS, GTK_ORIENTATION_VERTICAL));
  int below = MAX (MIN ((int)(height * BELOW_SHARE), BELOW_MOST), smallest);
  int picture = MIN (below * 7 / 4, width * 9 / 20), y = height - below;
  place (self, WORK, 0, 0, width, y - SPACING);
  place (self, PICTURE, 0, y, picture, below);
  place (self, WORDS, picture + SPACING, y, width - picture - SPACING, below);
}

static void
trammel_beside_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TrammelBeside *self = TRAMMEL_BESIDE (widget);
  if (width >= self->wide_from)
    allocate_beside (self, width, height);
  else
    allocate_below (self, width, height);
}

static void
set_child (TrammelBeside *self, int which, GtkWidget *child)
{
  g_clear_pointer (&self->children[which], gtk_widget_unparent);
  self->children[which] = child;
  if (child)
    gtk_widget_set_parent (child, GTK_WIDGET (self));
}

static void
trammel_beside_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TrammelBeside *self = TRAMMEL_BESIDE (object);
  if (id == PROP_WIDE_FROM)
    self->wide_from = g_value_get_int (value);
  else if (id >= PROP_WORK && id <= PROP_WORDS)
    set_child (self, (int)id - PROP_WORK, g_value_get_object (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
trammel_beside_dispose (GObject *object)
{
  TrammelBeside *self = TRAMMEL_BESIDE (object);
  for (int i = 0; i < N_CHILDREN; i++)
    g_clear_pointer (&self->children[i], gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_beside_parent_class)->dispose (object);
}

static void
trammel_beside_class_init (TrammelBesideClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  const GParamFlags flags = G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS;

  object_class->dispose = trammel_beside_dispose;
  object_class->set_property = trammel_beside_set_property;
  widget_class->measure = trammel_beside_measure;
  widget_class->size_allocate = trammel_beside_size_allocate;
  properties[PROP_WORK] = g_param_spec_object ("work", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_PICTURE] = g_param_spec_object ("picture", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_WORDS] = g_param_spec_object ("words", NULL, NULL, GTK_TYPE_WIDGET, flags);
  properties[PROP_WIDE_FROM] = g_param_spec_int ("wide-from", NULL, NULL, 0, G_MAXINT, 900, flags);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
trammel_beside_init (TrammelBeside *self)
{
  self->wide_from = 900;
}
