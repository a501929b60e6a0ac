# Read in by roofs/demo.sh and tests/run.sh: sees to the Debian packages that they need.
# packages_need NAME...: installs what is missing (as root), or says what to install and ends with 1.

packages_missing() {
    for package in "$@"; do
        dpkg-query -W -f '${Status}\n' "$package" 2>/dev/null | grep -q 'ok installed' ||
            printf ' %s' "$package"
    done
}

packages_need() {
    if ! command -v dpkg-query >/dev/null 2>&1; then
        echo "This is no Debian: see to it that these, or what they are called here, are there:"
        echo "  $*"
        return 0
    fi
    missing=$(packages_missing "$@")
    if [ -z "$missing" ]; then
        return 0
    fi
    if [ "$(id -u)" -ne 0 ]; then
        echo "Some packages are missing. Install them, then try again:" >&2
        echo "  sudo apt-get update && sudo apt-get install$missing" >&2
        exit 1
    fi
    echo "Installing:$missing"
    apt-get update
    # shellcheck disable=SC2086 # a list of names
    DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing
}

# shellcheck disable=SC2034 # for whoever reads this in
PACKAGES_TO_BUILD="gcc libc6-dev make cmake pkg-config libglpk-dev libcyaml-dev libyaml-dev
    libjansson-dev libcairo2-dev libltdl-dev fonts-dejavu-core libsqlite3-dev libcmocka-dev
    libgeos-dev"
# shellcheck disable=SC2034
PACKAGES_TO_TEST="coinor-cbc glpk-utils clang-format cppcheck
    zsh mandoc dpkg-dev file binutils locales
    poppler-utils chromium parallel slurmctld slurmd slurm-client munge"
