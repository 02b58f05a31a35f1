// A stack in section: its parts meshed, and condensed to the points where they touch. Made once for
// a geometry; microns, heat, speed and forces come later and move no node.
#pragma once

#include <array>
#include <fitwright/bodies/cache.hpp>
#include <fitwright/bodies/contacts.hpp>
#include <fitwright/bodies/section.hpp>
#include <memory>

namespace fitwright::bodies {

// A mesh for pictures and decks: eight-node quadrilaterals, corners first.
struct SectionMesh {
    std::vector<double> r, z;
    std::vector<std::array<int, 8>> elements;
};

// Movements and stresses of one part at its nodes.
struct SectionField {
    std::vector<double> outwards, along; // without the shift of a ring as a whole
    std::vector<double> radial, axial, hoop, shear, von_mises;
};

// What acts on a stack at one moment: what a field is made from.
struct SectionActs {
    std::vector<double> forces;       // of the contacts, in their order
    std::vector<double> loads;        // heat, gradient, spin of the shaft, then of each ring
    std::vector<double> push, thrust; // on each ring, along -z
    double pull = 0.0;                // on the shaft's thread, along +z
};

class Sections {
public:
    // Throws DomainError with every problem of the section.
    explicit Sections(StackSection stack, const Fineness& fineness = {}, Cache* cache = nullptr);
    ~Sections();
    Sections(Sections&&) noexcept;
    Sections& operator=(Sections&&) noexcept;

    const StackSection& stack() const;
    const ContactPoints& contacts() const;
    std::size_t unknowns() const; // of all meshes

    // Parts: 0 the shaft, k + 1 ring k.
    SectionMesh mesh(int part) const;
    // Outside faces, from the shoulder: place and radius of each point.
    const std::vector<double>& outside_z(int part) const;
    const std::vector<double>& outside_radius(int part) const;
    // Movement outwards of these points.
    std::vector<double> growth(int part, const SectionActs& acts) const;
    // Everywhere in a part: one factorisation, not kept.
    SectionField field(int part, const SectionActs& acts) const;

private:
    struct Body;
    std::unique_ptr<Body> body_;
};

} // namespace fitwright::bodies
