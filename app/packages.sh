# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by app/run and tests/run: install_missing PACKAGE… installs Debian packages that are not there yet.

is_debian () {
  command -v apt-get >/dev/null && command -v dpkg-query >/dev/null
}

missing_packages () {
  local package
  for package in "$@"; do
    dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed || printf '%s ' "$package"
  done
}

as_root () {
  if [ "$(id -u)" = 0 ]; then "$@"
  elif command -v sudo >/dev/null; then sudo "$@"
  else
    echo "These packages are missing and there is no sudo to install them with; as root, run:" >&2
    echo "  $*" >&2
    return 1
  fi
}

install_missing () {
  local missing
  missing=$(missing_packages "$@")
  [ -n "$missing" ] || return 0
  echo "Installing: $missing" >&2
  # A stale package list is the usual reason for a failure: refresh it and try again.
  # shellcheck disable=SC2086
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing >/tmp/trammel-apt.$$ 2>&1 ||
    { as_root apt-get update -q && as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing; } >/tmp/trammel-apt.$$ 2>&1 ||
    { cat /tmp/trammel-apt.$$ >&2; rm -f /tmp/trammel-apt.$$; return 1; }
  rm -f /tmp/trammel-apt.$$
}
