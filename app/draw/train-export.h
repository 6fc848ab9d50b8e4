/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/train-drawing.h"

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_PICTURE_SVG,
  TRAMMEL_PICTURE_PDF,
  TRAMMEL_PICTURE_PNG,
} TrammelPictureFormat;

/* The format that the suffix of @name asks for: .svg, .pdf, .png, in small or large letters. Error:
 * TRAMMEL_ERROR_PARSE for any other, with the ones that there are. */
gboolean trammel_picture_format_of_name (const char *name, TrammelPictureFormat *format, GError **error);

/**
 * trammel_train_export:
 *
 * @picture on its palette's ground, as the whole contents of a file. A picture's pixel is 1/96 inch in SVG and PDF; PNG
 * has two pixels for one.
 *
 * Returns: (transfer full): NULL with TRAMMEL_ERROR_TOO_LARGE for a picture that is not 1 to 10,000 pixels wide and
 * high, TRAMMEL_ERROR_STORE when it could not be made (no memory).
 */
GBytes *trammel_train_export (TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture,
                              TrammelPictureFormat format, GError **error);

G_END_DECLS
