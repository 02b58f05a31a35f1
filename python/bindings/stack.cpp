#include "bindings.hpp"
#include <fitwright/stack/clocking.hpp>

namespace {

using namespace fitwright;
using namespace fitwright::stack;

// The numbers of a part in the order of its fields.
template <class Part>
Part part_of(const std::string& path, const std::vector<double>& numbers) {
    if (numbers.size() != sizeof(Part) / sizeof(double))
        throw DomainError({Problem{path, "has " + std::to_string(numbers.size()) + " numbers"}});
    return *reinterpret_cast<const Part*>(numbers.data());
}

SquareStack
make_stack(const std::vector<double>& whole, const materials::Entry& shaft,
           const std::vector<std::tuple<std::string, const materials::Entry*, std::vector<double>>>&
               rings) {
    std::vector<NamedRing> named;
    for (const auto& [name, material, numbers] : rings)
        named.push_back({name, *material, part_of<SquareRing<double>>("rings." + name, numbers)});
    return {part_of<SquareStackInputs<double>>("", whole), shaft, std::move(named)};
}

Aim aim_of(const std::string& word) {
    constexpr const char* words[] = {"bend", "tilt", "runout", "unbalance"};
    for (int i = 0; i < 4; ++i)
        if (word == words[i])
            return static_cast<Aim>(i);
    throw DomainError(
        {Problem{"aim", "\"" + word + "\" must be one of bend, tilt, runout, unbalance"}});
}

py::dict spread_dict(const ClockingSpread& s) {
    return py::dict(py::arg("least") = s.least, py::arg("mean") = s.mean,
                    py::arg("median") = s.median, py::arg("most") = s.most,
                    py::arg("greatest") = s.greatest, py::arg("ways") = s.ways);
}

Column values_of_many(const Clocking& clocking, const Column& turns) {
    if (turns.ndim() != 2)
        throw DomainError({Problem{"turns", "must be a table, one row for each way"}});
    Column values(turns.shape(0));
    const auto size = static_cast<std::size_t>(turns.size());
    clocking.at(std::span(turns.data(), size),
                std::span(values.mutable_data(), static_cast<std::size_t>(turns.shape(0))));
    return values;
}

} // namespace

void bind_stack(py::module_& m) {
    py::class_<SquareStack>(m, "SquareStack")
        .def(py::init(&make_stack), py::arg("whole"), py::arg("shaft"), py::arg("rings"))
        .def("evaluate", &SquareStack::evaluate)
        .def(
            "turned",
            [](const SquareStack& s, const std::vector<double>& turns) { return s.turned(turns); },
            py::arg("turns"));
    py::class_<Clocking>(m, "Clocking")
        .def(py::init([](const SquareStack& stack, const std::string& aim, int of) {
                 return Clocking(stack, aim_of(aim), of);
             }),
             py::arg("stack"), py::arg("aim"), py::arg("of"))
        .def("at", &values_of_many, py::arg("turns"))
        .def("bound", &Clocking::bound)
        .def_static(
            "ways", [](const std::vector<int>& slots) { return Clocking::ways(slots); },
            py::arg("slots"))
        .def_static("most_ways", [] { return Clocking::most_ways; })
        .def(
            "every_way",
            [](const Clocking& c, const std::vector<int>& slots) {
                Clocking::Best best;
                {
                    const py::gil_scoped_release unlocked;
                    best = c.every_way(slots, keyboard());
                }
                return std::pair{best.positions, spread_dict(best.spread)};
            },
            py::arg("slots"))
        .def(
            "at_random",
            [](const Clocking& c, const std::vector<int>& slots, std::int64_t ways,
               std::uint64_t seed) {
                ClockingSpread spread{};
                {
                    const py::gil_scoped_release unlocked;
                    spread = c.at_random(slots, ways, seed, keyboard());
                }
                return spread_dict(spread);
            },
            py::arg("slots"), py::arg("ways"), py::arg("seed"));
}
