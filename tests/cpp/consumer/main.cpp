#include "answers.hpp"
#include <fstream>

int main(int argc, char** argv) {
    if (argc != 2)
        return 2;
    std::ofstream(argv[1]) << answers();
    return 0;
}
