/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* A place on disk for the unsaved work of one window, held by a lock as long as the process lives: a place that nobody
 * holds has been left behind. Two files in a folder: NAME.trammel, the machine, and NAME.info, which is locked. */
typedef struct _TrammelRecovery TrammelRecovery;

/* (transfer full) (nullable): a new place in the user's state folder. */
TrammelRecovery *trammel_recovery_new (GError **error);
/* (transfer full) (nullable): the newest place that holds work and that no living process holds; it is held from now
 * on. */
TrammelRecovery *trammel_recovery_find_leftover (void);
/* Lets go of the place; what is in it stays. */
void trammel_recovery_free (TrammelRecovery *recovery);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelRecovery, trammel_recovery_free)

/* Callable from any thread, one at a time. @path (nullable): the file that the work belongs to. */
gboolean trammel_recovery_write (TrammelRecovery *recovery, const TrammelMachine *machine, const char *path,
                                 GError **error);
/* (transfer full) (nullable); @path (out) (transfer full) (nullable). */
TrammelMachine *trammel_recovery_read (TrammelRecovery *recovery, char **path, GError **error);
/* When the work was written, local time; (transfer full) (nullable). */
GDateTime *trammel_recovery_time (TrammelRecovery *recovery);
/* Takes the work away; the place stays. */
void trammel_recovery_clear (TrammelRecovery *recovery);
/* Takes the place away, and frees it. */
void trammel_recovery_remove (TrammelRecovery *recovery);

G_END_DECLS
