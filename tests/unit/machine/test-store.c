/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* unshare */
#include "base/error.h"
#include "machine/codec.h"
#include "machine/store.h"

#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sched.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char *folder;

static void
make_folder (void)
{
  folder = g_dir_make_tmp ("trammel-store-XXXXXX", NULL);
  ck_assert_ptr_nonnull (folder);
}

static void
remove_folder (void)
{
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  const char *name;
  while (files != NULL && (name = g_dir_read_name (files)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (folder);
  g_free (folder);
}

static char *
in_folder (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static TrammelMachine *
named (const char *name)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  return trammel_machine_with_name (machine, name);
}

static void
save (const TrammelMachine *machine, const char *path)
{
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_store_save (machine, path, &error), "%s", error ? error->message : "");
}

static void
expect_name (const char *path, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (path, &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
  ck_assert_str_eq (trammel_machine_name (machine), name);
}

static gsize
count_files (void)
{
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  gsize n = 0;
  while (g_dir_read_name (files) != NULL)
    n++;
  return n;
}

static void
expect_failure (gboolean done, GError **error, const char *path, const char *why)
{
  ck_assert (!done);
  ck_assert (g_error_matches (*error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE));
  ck_assert_msg (g_str_has_prefix ((*error)->message, path), "%s", (*error)->message);
  ck_assert_msg (strstr ((*error)->message, why) != NULL, "%s", (*error)->message);
  g_clear_error (error);
}

START_TEST (saves_loads_and_keeps_the_version_before)
{
  g_autofree char *path = in_folder ("heron.trammel"), *previous = in_folder ("heron.trammel~");
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  g_autoptr (TrammelMachine) third = named ("third");
  save (first, path);
  expect_name (path, "first");
  ck_assert_uint_eq (count_files (), 1);
  save (second, path);
  expect_name (path, "second");
  expect_name (previous, "first");
  save (third, path);
  expect_name (path, "third");
  expect_name (previous, "second");
  ck_assert_uint_eq (count_files (), 2);
}
END_TEST

START_TEST (what_is_on_disk_is_what_the_codec_writes)
{
  g_autofree char *path = in_folder ("a.trammel"), *text = NULL, *on_disk = NULL;
  g_autoptr (TrammelMachine) machine = named ("Heron");
  save (machine, path);
  text = trammel_codec_write (machine, NULL);
  ck_assert (g_file_get_contents (path, &on_disk, NULL, NULL));
  ck_assert_str_eq (on_disk, text);
}
END_TEST

START_TEST (permissions_stay)
{
  g_autofree char *path = in_folder ("a.trammel");
  g_autoptr (TrammelMachine) machine = named ("a");
  struct stat status;
  mode_t mask = umask (027);
  save (machine, path);
  umask (mask);
  ck_assert_int_eq (stat (path, &status), 0);
  ck_assert_int_eq (status.st_mode & 07777, 0640);
  ck_assert_int_eq (chmod (path, 0604), 0);
  save (machine, path);
  ck_assert_int_eq (stat (path, &status), 0);
  ck_assert_int_eq (status.st_mode & 07777, 0604);
}
END_TEST

START_TEST (symbolic_links_are_followed)
{
  g_autofree char *real = in_folder ("real.trammel"), *link = in_folder ("link.trammel"),
                  *far = in_folder ("far.trammel");
  g_autofree char *new_link = in_folder ("new-link.trammel"), *new = in_folder ("new.trammel");
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  struct stat status;
  save (first, real);
  ck_assert_int_eq (symlink ("real.trammel", link), 0);
  ck_assert_int_eq (symlink (link, far), 0);
  ck_assert_int_eq (symlink ("new.trammel", new_link), 0); /* to nothing, yet */
  save (second, far);
  expect_name (real, "second");
  ck_assert (lstat (far, &status) == 0 && S_ISLNK (status.st_mode));
  ck_assert (lstat (link, &status) == 0 && S_ISLNK (status.st_mode));
  save (second, new_link);
  expect_name (new, "second");
  ck_assert (lstat (new_link, &status) == 0 && S_ISLNK (status.st_mode));

  g_autofree char *circle = in_folder ("circle"), *back = in_folder ("back");
  g_autoptr (GError) error = NULL;
  ck_assert (symlink ("back", circle) == 0 && symlink ("circle", back) == 0);
  expect_failure (trammel_store_save (first, circle, &error), &error, circle, "");
  expect_failure (trammel_store_load (circle, &error) != NULL, &error, circle, "");
}
END_TEST

START_TEST (a_second_hard_name_of_the_file_is_left_as_it_was)
{
  g_autofree char *path = in_folder ("a.trammel"), *other = in_folder ("other"), *previous = in_folder ("a.trammel~");
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  save (first, path);
  ck_assert_int_eq (link (path, previous), 0); /* the version before is the file itself */
  ck_assert_int_eq (link (path, other), 0);
  save (second, path);
  expect_name (path, "second");
  expect_name (previous, "first");
  expect_name (other, "first");
  ck_assert_uint_eq (count_files (), 3);
}
END_TEST

START_TEST (a_folder_is_no_file)
{
  g_autofree char *missing = g_build_filename (folder, "missing", "a.trammel", NULL);
  g_autoptr (TrammelMachine) machine = named ("a");
  g_autoptr (GError) error = NULL;
  expect_failure (trammel_store_save (machine, folder, &error), &error, folder, "found a folder; a file is wanted");
  expect_failure (trammel_store_load (folder, &error) != NULL, &error, folder, "found a folder; a file is wanted");
  expect_failure (trammel_store_save (machine, missing, &error), &error, missing, g_strerror (ENOENT));
  expect_failure (trammel_store_load (missing, &error) != NULL, &error, missing, g_strerror (ENOENT));
}
END_TEST

START_TEST (a_pipe_does_not_keep_us_waiting)
{
  g_autofree char *path = in_folder ("pipe");
  g_autoptr (GError) error = NULL;
  ck_assert_int_eq (mkfifo (path, 0600), 0);
  expect_failure (trammel_store_load (path, &error) != NULL, &error, path, "not a regular file");
}
END_TEST

START_TEST (no_permission)
{
  g_autofree char *path = in_folder ("a.trammel");
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  g_autoptr (GError) error = NULL;
  save (first, path);
  ck_assert_int_eq (chmod (path, 0), 0);
  /* To root nothing is forbidden. Each test is a process of its own, so it may become nobody. */
  if (geteuid () == 0)
    {
      ck_assert_int_eq (chmod (folder, 0777), 0);
      ck_assert_int_eq (seteuid (65534), 0);
    }
  expect_failure (trammel_store_load (path, &error) != NULL, &error, path, g_strerror (EACCES));
  expect_failure (trammel_store_save (second, path, &error), &error, path, g_strerror (EACCES));
  if (getuid () == 0)
    ck_assert_int_eq (seteuid (0), 0);
  ck_assert_int_eq (chmod (path, 0600), 0);
  expect_name (path, "first");
  ck_assert_int_eq (chmod (folder, 0500), 0);
  if (geteuid () == 0)
    ck_assert_int_eq (seteuid (65534), 0);
  g_autofree char *new = in_folder ("new.trammel");
  ck_assert (!trammel_store_save (second, new, &error));
  g_clear_error (&error);
  if (getuid () == 0)
    ck_assert_int_eq (seteuid (0), 0);
  ck_assert_int_eq (chmod (folder, 0700), 0);
  ck_assert_uint_eq (count_files (), 1);
}
END_TEST

/* Much larger than the limits of the tests of full disks. */
static TrammelMachine *
large_machine (void)
{
  g_autofree char *note = g_strnfill (3000000, 'x');
  g_autoptr (TrammelMachine) machine = named ("large");
  return trammel_machine_with_note (machine, note);
}

START_TEST (a_write_that_fails_leaves_the_old_file)
{
  g_autofree char *path = in_folder ("a.trammel");
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) large = large_machine ();
  g_autoptr (GError) error = NULL;
  struct rlimit limit = { 1000000, 1000000 };
  save (first, path);
  signal (SIGXFSZ, SIG_IGN);
  ck_assert_int_eq (setrlimit (RLIMIT_FSIZE, &limit), 0);
  expect_failure (trammel_store_save (large, path, &error), &error, path, g_strerror (EFBIG));
  expect_name (path, "first");
  ck_assert_uint_eq (count_files (), 1);
}
END_TEST

START_TEST (a_full_device)
{
  g_autoptr (TrammelMachine) machine = named ("a");
  g_autoptr (GError) error = NULL;
  expect_failure (trammel_store_save (machine, "/dev/full", &error), &error, "/dev/full", g_strerror (ENOSPC));
  expect_failure (trammel_store_write_text ("/dev/full", "a", 1, &error), &error, "/dev/full", g_strerror (ENOSPC));
  ck_assert (trammel_store_write_text ("/dev/null", "a", 1, &error));
}
END_TEST

/* A disk of 1 MB over the folder, for this process alone. FALSE where that is not allowed. */
static gboolean
mount_small_disk (void)
{
  uid_t user = geteuid ();
  if (unshare (CLONE_NEWNS) != 0 && unshare (CLONE_NEWUSER | CLONE_NEWNS) != 0)
    return FALSE;
  if (geteuid () != 0)
    {
      g_autofree char *map = g_strdup_printf ("0 %u 1", user);
      int fd = open ("/proc/self/uid_map", O_WRONLY);
      if (fd < 0 || write (fd, map, strlen (map)) < 0)
        return FALSE;
      close (fd);
    }
  mount (NULL, "/", NULL, MS_REC | MS_PRIVATE, NULL);
  return mount ("trammel-test", folder, "tmpfs", 0, "size=1m") == 0;
}

START_TEST (a_full_disk_leaves_the_old_file)
{
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  g_autoptr (TrammelMachine) large = large_machine ();
  g_autoptr (GError) error = NULL;
  if (!mount_small_disk ())
    {
      printf ("# no disk can be mounted here: the full disk itself is not tested\n");
      return;
    }
  g_autofree char *path = in_folder ("a.trammel");
  save (first, path);
  for (int i = 0; i < 3; i++)
    expect_failure (trammel_store_save (large, path, &error), &error, path, g_strerror (ENOSPC));
  expect_name (path, "first");
  ck_assert_uint_eq (count_files (), 1);
  save (second, path);
  expect_name (path, "second");
  ck_assert_int_eq (umount (folder), 0);
}
END_TEST

static void
leave_behind (const char *name)
{
  g_autofree char *path = in_folder (name);
  ck_assert (g_file_set_contents (path, "{", -1, NULL));
}

START_TEST (leftovers_of_killed_saves_are_swept)
{
  static const char *const theirs[] = {
    ".a.trammel.short", ".a.trammel.toolong1", ".b.trammel.abcdef",
    "a.trammel.abcdef", ".a.trammel.abc-ef",   ".a.trammel.abcdef~~",
  };
  g_autofree char *path = in_folder ("a.trammel");
  g_autofree char *locked = in_folder (".a.trammel.LOCKED");
  g_autoptr (TrammelMachine) machine = named ("a");
  for (gsize i = 0; i < G_N_ELEMENTS (theirs); i++)
    leave_behind (theirs[i]);
  leave_behind (".a.trammel.abcdef");
  leave_behind (".a.trammel.Z9Z9Z9~");
  leave_behind (".a.trammel.LOCKED");
  int fd = open (locked, O_RDONLY); /* as a save does that is under way */
  ck_assert_int_eq (flock (fd, LOCK_EX), 0);
  save (machine, path);
  ck_assert_uint_eq (count_files (), G_N_ELEMENTS (theirs) + 4); /* all are too fresh */

  /* The time of the last change of state cannot be set; only waiting makes it old. */
  sleep (12);
  leave_behind (".a.trammel.fresh1");
  save (machine, path);
  for (gsize i = 0; i < G_N_ELEMENTS (theirs); i++)
    {
      g_autofree char *kept = in_folder (theirs[i]);
      ck_assert_msg (g_file_test (kept, G_FILE_TEST_EXISTS), "%s is gone", theirs[i]);
    }
  ck_assert (g_file_test (locked, G_FILE_TEST_EXISTS));
  /* Theirs, the locked and the fresh one, the file and the version before. */
  ck_assert_uint_eq (count_files (), G_N_ELEMENTS (theirs) + 4);
  close (fd);
}
END_TEST

START_TEST (more_than_a_gibibyte)
{
  g_autofree char *path = in_folder ("huge.trammel");
  g_autoptr (GError) error = NULL;
  int fd = open (path, O_CREAT | O_WRONLY, 0600);
  ck_assert_int_eq (ftruncate (fd, (goffset)1 << 31), 0); /* takes no room */
  close (fd);
  ck_assert_ptr_null (trammel_store_load (path, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
  ck_assert_ptr_nonnull (strstr (error->message, "1 GiB"));
}
END_TEST

START_TEST (text_without_a_version_before)
{
  g_autofree char *path = in_folder ("square.gcode"), *on_disk = NULL;
  gsize length;
  ck_assert (trammel_store_write_text (path, "G21\n", 4, NULL));
  ck_assert (trammel_store_write_text (path, "G21\0G90\n", 8, NULL));
  ck_assert (g_file_get_contents (path, &on_disk, &length, NULL));
  ck_assert_uint_eq (length, 8);
  ck_assert_uint_eq (count_files (), 1);
  ck_assert (trammel_store_write_text (path, NULL, 0, NULL));
}
END_TEST

START_TEST (long_names)
{
  g_autofree char *long_name = g_strnfill (255, 'n');
  g_autofree char *path = in_folder (long_name);
  g_autoptr (TrammelMachine) first = named ("first");
  g_autoptr (TrammelMachine) second = named ("second");
  save (first, path);
  save (second, path); /* there is no room for the ~ of the version before */
  expect_name (path, "second");
  ck_assert_uint_eq (count_files (), 1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("store");
  TCase *tests = tcase_create ("store");
  tcase_add_checked_fixture (tests, make_folder, remove_folder);
  tcase_set_timeout (tests, 100);
  tcase_add_test (tests, saves_loads_and_keeps_the_version_before);
  tcase_add_test (tests, what_is_on_disk_is_what_the_codec_writes);
  tcase_add_test (tests, permissions_stay);
  tcase_add_test (tests, symbolic_links_are_followed);
  tcase_add_test (tests, a_second_hard_name_of_the_file_is_left_as_it_was);
  tcase_add_test (tests, a_folder_is_no_file);
  tcase_add_test (tests, a_pipe_does_not_keep_us_waiting);
  tcase_add_test (tests, no_permission);
  tcase_add_test (tests, a_write_that_fails_leaves_the_old_file);
  tcase_add_test (tests, a_full_device);
  tcase_add_test (tests, a_full_disk_leaves_the_old_file);
  tcase_add_test (tests, leftovers_of_killed_saves_are_swept);
  tcase_add_test (tests, more_than_a_gibibyte);
  tcase_add_test (tests, text_without_a_version_before);
  tcase_add_test (tests, long_names);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
