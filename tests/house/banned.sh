#!/bin/sh
# Functions that are not used here, and why: unbounded copies, hidden state, the locale's decimal point, process exit
# from the library.
set -u
bad=0
found=$(grep -nE '\b(strcpy|strcat|strncpy|sprintf|vsprintf|strtok|atoi|atof|gets|setlocale|alloca)\(' src/*/*.c src/*/*.h | grep -vE 'src/face/.*setlocale\(LC_CTYPE')
[ -n "$found" ] && { echo "$found"; bad=1; }
found=$(grep -nE '\bstrto(d|f|ld)\(' src/*/*.c | grep -v '^src/base/')
[ -n "$found" ] && { echo "$found"; bad=1; }
found=$(grep -nE '\b(exit|abort|printf|puts|perror)\(' src/*/*.c | grep -v '^src/face/' | grep -vE '_(printf|puts)\(')
[ -n "$found" ] && { echo "$found"; bad=1; }
exit $bad
