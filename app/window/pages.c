/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/pages.h"

#include <glib/gi18n.h>

#include "window/drive-page.h"
#include "window/handover-page.h"
#include "window/piece-page.h"
#include "window/readings-page.h"
#include "window/result-page.h"

/* clang-format off */
static const TrammelPage pages[] = {
  { "drive",    N_ ("Drive"),      N_ ("What the machine should do: from teeth and turns to steps per millimetre"), trammel_drive_page_new },
  { "piece",    N_ ("Test piece"), N_ ("What to print and where to measure it"),                                    trammel_piece_page_new },
  { "readings", N_ ("Readings"),   N_ ("What was measured"),                                                        trammel_readings_page_new },
  { "result",   N_ ("Result"),     N_ ("What the readings say, and what to adopt"),                                 trammel_result_page_new },
  { "handover", N_ ("Hand over"),  N_ ("What the controller gets, and the log"),                                    trammel_handover_page_new },
};
/* clang-format on */

const TrammelPage *
trammel_pages (gsize *n)
{
  *n = G_N_ELEMENTS (pages);
  return pages;
}
