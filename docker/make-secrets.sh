#!/usr/bin/env bash
# Makes the secrets that compose.yaml mounts, in docker/secrets: an authority, the broker's certificate, passwords.
# What is there is kept, so that it can be run again to add trucks.
#
#   docker/make-secrets.sh broker.example T07 T09     the broker's public name, then trucks that log in with a password
#
# Needs openssl and mosquitto_passwd (Debian: openssl, mosquitto).
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/secrets"
umask 077

name=${1:?the broker\'s public name, as broker.example}
shift

secret() { [ -e "$1" ] || openssl rand -hex 24 > "$1"; }

if [ ! -e ca.pem ]; then
  openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 3650 \
    -subj "/CN=Vanehour fleet authority" -addext "keyUsage=critical,keyCertSign,cRLSign" -keyout ca-key.pem -out ca.pem
fi
if [ ! -e broker.pem ]; then
  openssl req -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -subj "/CN=$name" -keyout broker-key.pem -out broker.csr
  # "broker" is its name inside compose; "localhost" is what its own health check asks for.
  openssl x509 -req -in broker.csr -CA ca.pem -CAkey ca-key.pem -CAcreateserial -days 825 -out broker.pem \
    -extfile <(printf 'subjectAltName=DNS:%s,DNS:broker,DNS:localhost\nextendedKeyUsage=serverAuth\n' "$name")
  rm -f broker.csr
fi

add() { # user, file of its password
  secret "$2"
  grep -q "^$1:" broker-passwords 2>/dev/null || mosquitto_passwd -b broker-passwords "$1" "$(cat "$2")"
}
touch broker-passwords
chmod u+w broker-passwords
add vanehour-worker worker-password
add health health-password
for truck in "$@"; do
  case $truck in *[!A-Za-z0-9._-]*) echo "'$truck' is no truck's id" >&2; exit 1 ;; esac
  case $truck in vanehour-worker | health) echo "'$truck' is not free" >&2; exit 1 ;; esac
  add "$truck" "truck-$truck-password"
done
secret influxdb-admin-password
secret influxdb-admin-token
# InfluxDB 2 draws every other token itself: until one for the bucket is put here, the worker uses the admin's.
[ -e influxdb-worker-token ] || cp influxdb-admin-token influxdb-worker-token

# Compose mounts these files into containers that run as other users, who must be able to read them; the folder keeps everyone else out.
chmod 700 .
chmod 444 ca.pem broker.pem broker-key.pem broker-passwords worker-password health-password influxdb-admin-password influxdb-admin-token influxdb-worker-token
echo "Secrets are in $PWD. Keep ca-key.pem offline once every certificate is issued."
