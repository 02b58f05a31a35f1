// A job's flat array of inputs, part by part.
#pragma once

#include <fitwright/job/layout.hpp>
#include <fitwright/job/parts.hpp>
#include <fitwright/job/step_parts.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::job {

using namespace number;

// Views of the flat arrays.
template <class T>
struct Inputs {
    const T* in;
    const Layout& at;
    template <template <class> class Part>
    const Part<T>& part(int leaf) const {
        return *reinterpret_cast<const Part<T>*>(in + leaf);
    }
    template <template <class> class Part>
    static constexpr int size() {
        return static_cast<int>(sizeof(Part<double>) / sizeof(double));
    }
    const Rotor<T>& rotor() const { return part<Rotor>(at.rotor_at); }
    const Nut<T>& nut() const { return part<Nut>(at.nut_at); }
    const threads::Nut<T>& thread() const { return part<threads::Nut>(at.nut_at); }
    const stack::Lock<T>& lock() const { return part<stack::Lock>(at.lock_at); }
    const stack::Shoulder<T>& shoulder() const { return part<stack::Shoulder>(at.shoulder_in_at); }
    const bearings::Bearing<T>& bearing() const { return part<bearings::Bearing>(at.bearing_at); }
    const Service<T>& service() const { return part<Service>(at.service_at); }
    const bearings::Service<T>& ratings() const { return part<bearings::Service>(at.service_at); }
    const bearings::Lubricant<T>& oil() const {
        return part<bearings::Lubricant>(at.service_at + size<bearings::Service>());
    }
    const Pocket<T>& pocket() const { return part<Pocket>(at.pocket_at); }
    const Seat<T>& seat(int i) const { return part<Seat>(at.seats_at + i * size<Seat>()); }
    const Ring<T>& ring(int i) const { return part<Ring>(at.rings_at + i * size<Ring>()); }
    const rings::Ring<T>& fit_ring(int i) const {
        return part<rings::Ring>(at.rings_at + i * size<Ring>());
    }
    const Slice<T>& slice(int member) const { return part<Slice>(at.member_slice[member]); }
    const Seal<T>& seal(int i) const { return part<Seal>(at.seals_at + i * size<Seal>()); }
    const State<T>& state(int s) const { return part<State>(at.states_at + s * at.state_size); }
    const T& lag(int s, int part) const {
        return in[at.states_at + s * at.state_size + size<State>() + part];
    }
    const StateLoads<T>& loads(int s) const { // where a state tells of one
        return part<StateLoads>(at.states_at + s * at.state_size + at.loads_in_state);
    }
    const T& torque(int s, int k) const { // that ring `torque_ring[k]` passes to the shaft
        return in[at.states_at + s * at.state_size + at.torques_in_state + k];
    }
    const StateService<T>& state_service(int s) const {
        return part<StateService>(at.states_at + s * at.state_size + size<State>() +
                                  at.lags_in_state);
    }
};

} // namespace fitwright::job
