/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/train-layout.h"
#include "outline-area.h"
#include "train-of-text.h"

static inline TrammelLayout *
layout_of (const char *text, gboolean reverse)
{
  g_autoptr (TrammelTrain) train = train_of (text, reverse);
  return trammel_layout_new (train, NAN, trammel_unit_base (TRAMMEL_DIMENSION_LENGTH));
}

static inline const TrammelShape *
shape_at (const TrammelLayout *layout, guint i)
{
  return &g_array_index (layout->shapes, TrammelShape, i);
}

static inline const TrammelShape *
find_shape (const TrammelLayout *layout, TrammelShapeKind kind, int teeth)
{
  for (guint i = 0; i < layout->shapes->len; i++)
    if (shape_at (layout, i)->kind == kind && (teeth == 0 || shape_at (layout, i)->teeth == teeth))
      return shape_at (layout, i);
  ck_abort_msg ("no such shape");
  return NULL;
}

static inline Outline
outline_at (const TrammelShape *shape, double turns)
{
  double x, y;
  TrammelPoint *points = g_memdup2 (shape->outline, shape->n_outline * sizeof *points);
  for (gsize i = 0; i < shape->n_outline; i++)
    points[i] = (TrammelPoint){ points[i].x * shape->module, points[i].y * shape->module };
  trammel_shape_center (shape, turns, &x, &y);
  return placed (points, shape->n_outline, trammel_shape_rotation (shape, turns), x, y);
}
