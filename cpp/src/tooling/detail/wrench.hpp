// Torque wrench with an adapter: the hand pushes with S/L square to the wrench, the nut feels it at
// L + E cos(angle) (TM 9-254, torque wrench with angled extension). Multiplier: what goes in and what
// comes out differ by what the arm holds.
#pragma once

#include <fitwright/number/number.hpp>
#include <fitwright/tooling/wrench.hpp>

namespace fitwright::rules {
extern const number::Rule adapter_turns_back, efficiency_in_order, grip_on_wrench;
} // namespace fitwright::rules

namespace fitwright::tooling {

using namespace number;

template <class T>
void WrenchAdapter::run(const T* inputs, T* outputs, const fields::Context&, Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const WrenchAdapterInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<WrenchAdapterOutputs<T>*>(outputs);
    out.effective_length = in.wrench_length + in.adapter_length * cos(in.angle);
    faults.require(out.effective_length > in.wrench_length * 0.1, rules::adapter_turns_back,
                   in.adapter_length);
    faults.require(in.grip_error < in.wrench_length * 0.5, rules::grip_on_wrench, in.grip_error);
    out.ratio = in.wrench_length / out.effective_length;
    out.setting = in.torque * out.ratio;
    out.hand_force = in.torque / out.effective_length;
    // cos is greatest where the angle is 0, which may lie within its error.
    const T near = positive(abs(in.angle) - in.angle_error);
    const T most = cos(near);
    const T least = cos(smaller(abs(in.angle) + in.angle_error, T(fields::pi)));
    const auto at = [&](const T& cosine, const T& grip) {
        return out.setting * (in.adapter_length * cosine / (in.wrench_length + grip) + 1.0);
    };
    const T short_grip = -in.grip_error;
    out.torque_low = smaller(at(least, short_grip), at(least, in.grip_error));
    out.torque_high = larger(at(most, short_grip), at(most, in.grip_error));
    out.error = larger(out.torque_high / in.torque - 1.0, 1.0 - out.torque_low / in.torque);
}

template <class T>
void Multiplier::run(const T* inputs, T* outputs, const fields::Context& context,
                     Faults<T>& faults) {
    const auto& in = *reinterpret_cast<const MultiplierInputs<T>*>(inputs);
    auto& out = *reinterpret_cast<MultiplierOutputs<T>*>(outputs);
    const bool same_way = context.choices[0] == 0;
    const bool arm = context.choices[1] == 0;
    faults.require((in.efficiency_low <= in.efficiency) & (in.efficiency <= in.efficiency_high),
                   rules::efficiency_in_order, in.efficiency);
    out.input_torque = in.torque / (in.gear_ratio * in.efficiency);
    out.input_low = in.torque / (in.gear_ratio * in.efficiency_high);
    out.input_high = in.torque / (in.gear_ratio * in.efficiency_low);
    out.torque_low = in.torque * in.efficiency_low / in.efficiency;
    out.torque_high = in.torque * in.efficiency_high / in.efficiency;
    out.reaction_torque =
        same_way ? abs(out.torque_high - out.input_torque) : out.torque_high + out.input_torque;
    out.reaction_force = out.reaction_torque / (in.arm * cos(in.bear_angle));
    out.side_force = arm ? out.reaction_force : T(0.0);
    out.bending_moment = out.side_force * in.height;
}

} // namespace fitwright::tooling
