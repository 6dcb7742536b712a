#!/bin/sh
# Meshes one .geo file with the general mesher of Debian (package gmsh), Delaunay, one thread, first order, and prints
#   TRIANGLES CPU_SECONDS
# where the seconds are those it reports itself for meshing curves and surfaces: reading, writing and start-up are left out.
set -eu
command -v gmsh >/dev/null 2>&1 || { apt-get update -qq && apt-get install -y -qq gmsh; } >&2
out=$(mktemp --suffix=.msh)
trap 'rm -f "$out"' EXIT
log=$(gmsh -2 -algo del2d -nt 1 -order 1 -format msh2 "$1" -o "$out")
seconds=$(printf '%s\n' "$log" | sed -n 's/.*Done meshing [12]D.*CPU \([0-9.e+-]*\)s.*/\1/p' | awk '{ s += $1 } END { print s }')
triangles=$(awk 'inside && $2 == 2 { n++ } /^\$Elements/ { inside = 1 } /^\$EndElements/ { inside = 0 } END { print n }' "$out")
echo "$triangles $seconds"
