# The steps of ninja out of what pip tells: one line that counts in a terminal (-v terminal=1), else a line for
# every tenth.
match($0, /^ *\[[0-9]+\/[0-9]+\] /) {
    sub(/^ */, "")
    split(substr($0, 2, index($0, "]") - 2), count, "/")
    step = $0
    sub(/Building CXX object .*\/CMakeFiles\//, "", step)
    if (terminal) {
        printf "\r\033[K%s", substr(step, 1, 78)
        open = 1
    } else if (int(10 * count[1] / count[2]) != tenth) {
        tenth = int(10 * count[1] / count[2])
        print step
    }
    fflush()
}
END {
    if (open)
        printf "\r\033[K"
}
