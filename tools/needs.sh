# shellcheck shell=sh
# What the project needs from the system; sourced by sh and bash.

# Ends with one plain sentence.
stop() {
  printf '%s\n' "$*" >&2
  exit 1
}

# Can this person install packages without being asked for a password?
may_install() {
  command -v apt-get >/dev/null || return 1
  [ "$(id -u)" = 0 ] && return
  command -v sudo >/dev/null && sudo -n true 2>/dev/null
}

# apt-get as root, waiting for another that runs.
_apt() {
  set -- env DEBIAN_FRONTEND=noninteractive \
    apt-get -qq -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 "$@"
  [ "$(id -u)" = 0 ] || set -- sudo -n "$@"
  "$@" >/dev/null
}

# apt_install PACKAGE…: false where that is not allowed or fails.
apt_install() {
  may_install || return 1
  echo "Installing $* with apt-get …" >&2
  _apt update || echo "apt-get update failed: going on with the lists at hand." >&2
  _apt install -y --no-install-recommends "$@"
}

# ask_for COMMAND LINE: what the machine's keeper should be asked to run.
ask_for() {
  stop "Something is missing: ask whoever looks after this machine to run" \
    "\"$*\", then try again."
}

# Before postgresql is installed: Debian's package shall not start a cluster.
keep_no_cluster() {
  may_install || return 0
  _folder=/etc/postgresql-common/createcluster.d
  _as_root mkdir -p "$_folder"
  echo 'create_main_cluster = false' |
    _as_root tee "$_folder/no-main-cluster.conf" >/dev/null
}

_as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi
}
