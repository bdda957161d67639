#!/usr/bin/env bash
# Every caller of the C library, for real: headers under every standard and compiler, programs against the static library
# and against an installed one, Python, the interface against its committed baseline. Called by tests/run from the top of
# the project, after the release build; LOOMWRIGHT_PYTHON is the virtual environment's Python.
set -euo pipefail

work=target/callers
mkdir -p "$work"
strict=(-Wall -Wextra -Wpedantic -Werror)
system=(-lpthread -ldl -lm)

for compiler in gcc clang; do
    for standard in c99 c11; do
        "$compiler" "-std=$standard" "${strict[@]}" -Iinclude -fsyntax-only -x c include/loomwright.h
    done
done
for compiler in g++ clang++; do
    "$compiler" -std=c++17 "${strict[@]}" -Iinclude -fsyntax-only -x c++ include/loomwright.h
    "$compiler" -std=c++17 "${strict[@]}" -Iinclude -fsyntax-only -x c++ include/loomwright.hpp
done
echo "the headers are clean as C99, C11 and C++17 under gcc and clang"

# The interface, without its comments, is the committed one of its version; what differs needs a new number.
version=$(sed -n '/fn lw_abi_version/,/^}/s/^ *\([0-9][0-9]*\)$/\1/p' crates/loomwright-capi/src/border.rs)
gcc -fpreprocessed -dD -E -P include/loomwright.h > "$work/interface"
if ! diff "tests/reference/interface_$version.txt" "$work/interface"; then
    echo "the interface differs from version $version: restore it, or raise lw_abi_version and commit the new baseline" >&2
    exit 1
fi

prefix=$PWD/$work/prefix
cargo run --quiet -p xtask -- install --prefix "$prefix" > "$work/installed"
grep -q "libloomwright.so.$version " "$work/installed"
readelf -d "$prefix/lib/libloomwright.so" | grep -q "soname: \[libloomwright.so.$version\]"
nm -D --defined-only "$prefix/lib/libloomwright.so" | awk '{print $3}' | sort > "$work/exported"
grep -o 'lw_[a-z_]*(' "$work/interface" | tr -d '(' | sort -u | diff - "$work/exported"
echo "the library exports what the header declares, $(wc -l < "$work/exported") functions, interface $version"

# Against the static library.
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/one_circuit.c target/release/libloomwright.a "${system[@]}" -o "$work/one_circuit"
"$work/one_circuit" | diff examples/c/one_circuit.expected -
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/published.c target/release/libloomwright.a "${system[@]}" -o "$work/published"
"$work/published" examples/published.csv
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/one_stay.c target/release/libloomwright.a "${system[@]}" -o "$work/one_stay"
"$work/one_stay" crates/loomwright/examples/cabin.toml | diff examples/c/one_stay.expected -
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/measured.c target/release/libloomwright.a "${system[@]}" -o "$work/measured"
"$work/measured" examples/plans/veterinary-van.toml examples/readings/veterinary-van.csv | diff examples/c/measured.expected -
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/pictures.c target/release/libloomwright.a "${system[@]}" -o "$work/pictures"
for plan in examples/plans/*.toml; do
    diff <(target/release/loomwright draw "$plan" diagram) <("$work/pictures" "$plan")
done
cargo run --quiet -p loomwright-examples --bin published examples/published.csv > "$work/bits"
"$work/published" examples/published.csv --bits | diff "$work/bits" -
# Against the installed one, found by pkg-config, loaded by its soname.
export PKG_CONFIG_PATH=$prefix/lib/pkgconfig LD_LIBRARY_PATH=$prefix/lib
read -ra found <<< "$(pkg-config --cflags --libs loomwright)"
gcc -std=c11 "${strict[@]}" examples/c/plan_to_json.c "${found[@]}" -o "$work/plan_to_json"
for plan in examples/plans/river-launch.toml examples/plans/veterinary-van.toml; do
    diff <(target/release/loomwright check "$plan" --format json) <("$work/plan_to_json" "$plan"; echo) > /dev/null
done
printf 'format = 1\n[plan]\nname = "hut"\nplace = "cabn"\nsystem_voltage = "12 V"\n' > "$work/mistaken.toml"
if "$work/plan_to_json" "$work/mistaken.toml" 2> "$work/mistakes"; then exit 1; fi
grep -q '^4:9: plan.place: .*did you mean "cabin"' "$work/mistakes"
# Found by CMake.
cmake -S examples/cpp -B "$work/cmake" -DCMAKE_PREFIX_PATH="$prefix" > /dev/null
cmake --build "$work/cmake" > /dev/null
"$work/cmake/launch" examples/plans/river-launch.toml | diff examples/cpp/launch.expected -
# A library that panics inside on purpose, which crosses no border.
CARGO_PROFILE_DEV_OPT_LEVEL=0 cargo build --quiet -p loomwright-capi --features panic-on-purpose --target-dir "$work/on-purpose"
gcc -std=c11 "${strict[@]}" -Iinclude tests/callers/on_purpose.c "$work/on-purpose/debug/libloomwright.a" "${system[@]}" -o "$work/on_purpose"
"$work/on_purpose" crates/loomwright/examples/cabin.toml 2> /dev/null
echo "C, C++, pkg-config and CMake agree; a panic inside is a status"

"$LOOMWRIGHT_PYTHON" examples/python/size_many.py "$prefix/lib/libloomwright.so" examples/plans/veterinary-van.toml |
    diff examples/python/size_many.expected -
"$LOOMWRIGHT_PYTHON" examples/python/one_stay.py "$prefix/lib/libloomwright.so" crates/loomwright/examples/cabin.toml |
    diff examples/python/one_stay.expected -
"$LOOMWRIGHT_PYTHON" examples/python/measured.py "$prefix/lib/libloomwright.so" examples/plans/veterinary-van.toml \
    examples/readings/veterinary-van.csv | diff examples/python/measured.expected -
rm -rf "$work/drawn" && mkdir "$work/drawn"
"$LOOMWRIGHT_PYTHON" examples/python/pictures.py "$prefix/lib/libloomwright.so" examples/plans/veterinary-van.toml \
    examples/readings/veterinary-van.csv "$work/drawn" | diff examples/python/pictures.expected -
PYTHONPATH=examples/python "$LOOMWRIGHT_PYTHON" tests/callers/against_the_command.py \
    "$prefix/lib/libloomwright.so" target/release/loomwright
examples/shell/size_a_list.sh target/release/loomwright | diff examples/shell/size_a_list.expected -
PYTHONPATH=examples/python "$LOOMWRIGHT_PYTHON" tests/callers/bits.py "$prefix/lib/libloomwright.so" examples/published.csv |
    diff "$work/bits" -
echo "Python and shell agree, and C and Python with Rust to the last bit"

# LibreOffice brings its own bridge for the system's Python.
"$LOOMWRIGHT_PYTHON" examples/spreadsheet/build.py examples/published.csv "$work/wiring.ods"
LOOMWRIGHT_LIBRARY=$prefix/lib/libloomwright.so timeout 180 /usr/bin/python3 tests/callers/spreadsheet.py "$work/wiring.ods"

PYTHONPATH=examples/python "$LOOMWRIGHT_PYTHON" tests/callers/workbook.py target/release/loomwright "$work/workbooks"

valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
    --errors-for-leak-kinds=definite,indirect "$work/one_circuit" > /dev/null
# Unoptimised: an optimiser computes ahead with what it then throws away, which valgrind takes for a use of it.
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/plan_to_json.c "$work/on-purpose/debug/libloomwright.a" "${system[@]}" -o "$work/plan_to_json_plain"
valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
    --errors-for-leak-kinds=definite,indirect "$work/plan_to_json_plain" crates/loomwright/examples/lamp.toml > /dev/null
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/one_stay.c "$work/on-purpose/debug/libloomwright.a" "${system[@]}" -o "$work/one_stay_plain"
valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
    --errors-for-leak-kinds=definite,indirect "$work/one_stay_plain" crates/loomwright/examples/cabin.toml > /dev/null
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/measured.c "$work/on-purpose/debug/libloomwright.a" "${system[@]}" -o "$work/measured_plain"
printf 'case,quantity,at,value\nparked-night,voltage,house,12.71 V\n,voltage,lamp,"12,6 V"\n' > "$work/lamp.csv"
valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
    --errors-for-leak-kinds=definite,indirect "$work/measured_plain" crates/loomwright/examples/lamp.toml "$work/lamp.csv" > /dev/null
gcc -std=c11 "${strict[@]}" -Iinclude examples/c/pictures.c "$work/on-purpose/debug/libloomwright.a" "${system[@]}" -o "$work/pictures_plain"
valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
    --errors-for-leak-kinds=definite,indirect "$work/pictures_plain" crates/loomwright/examples/lamp.toml > /dev/null
echo "valgrind finds no error and no leak"
