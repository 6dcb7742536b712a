#!/bin/sh
# Runs the peers of the sparse solver on one matrix, one thread each: sparse.sh MATRIX REPETITIONS [quick]
# Lines printed: name, analysis ms, factorisation ms, solve ms, peak MB. "quick" leaves out splu and UMFPACK.
set -e
here=$(cd "$(dirname "$0")" && pwd)
matrix=$1
repeat=${2:-3}
for package in gcc libsuitesparse-dev libmumps-seq-dev libopenblas0-serial python3-scipy; do
    dpkg -s "$package" >/dev/null 2>&1 || apt-get install -y "$package" >/dev/null
done
build=${TMPDIR:-/tmp}/fieldwright-peers
mkdir -p "$build"
for peer in cholmod umfpack mumps; do
    case $peer in
        cholmod) libraries="-lcholmod -lm" ;;
        umfpack) libraries="-lumfpack -lm" ;;
        mumps) libraries="-ldmumps_seq -lzmumps_seq -lm" ;;
    esac
    [ "$build/$peer" -nt "$here/sparse-$peer.c" ] || gcc -O2 -o "$build/$peer" "$here/sparse-$peer.c" $libraries
done
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1
"$build/cholmod" "$matrix" "$repeat"
"$build/mumps" "$matrix" "$repeat" real
"$build/mumps" "$matrix" "$repeat" complex
"$build/mumps" "$matrix" "$repeat" complex 0
[ "$3" = quick ] && exit 0
"$build/umfpack" "$matrix" "$repeat" || true
/usr/bin/python3 "$here/sparse-splu.py" "$matrix" || true
