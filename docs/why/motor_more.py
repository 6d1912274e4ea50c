"""The second half of the numbers of motor.md: pole tips, magnets, pulls, alternating current, hum, switching."""

from __future__ import annotations

from dataclasses import replace
from math import hypot
from typing import Any

import motor_shop as shop
import numpy as np
from motor_figures import MM, Figures, dB, ratio, table

from handwound import iron_field
from handwound.materials import magnets
from handwound.motor import alternating, forces, switching, travel
from handwound.motor.solved import Solved
from handwound.parts.design import Design
from handwound.parts.prediction import MagnetState
from handwound.physics import stroke
from handwound.physics.field import Problem
from handwound.physics.field.harmonic import closed
from handwound.physics.field.remanence import remanence
from handwound.physics.field.working_point import K_KNEE, knee_field, knee_margin, knee_temperature, working_points
from handwound.quantities import plain, show
from handwound.stages import magnet_states

F = np.array([100.0, 1000.0, 10000.0])
STRAY = {"10 cm behind": (0.0, -0.1), "10 cm beside": (0.1, 0.01), "20 cm beside": (0.2, 0.01)}
"""Where the stray field of the ring magnet motor is read: (r, z). [m]"""


def tips() -> Figures:
    """What the shape of the pole's end and of the bore does to force and stroke."""
    pot = shop.pot()
    below = 46.03 * MM
    tried: list[tuple[str, Design]] = [
        ("flush with the plate, as planned", pot.design),
        ("3 mm shorter", shop.changed(pot, pole={"t": 49 * MM})),
        ("3 mm longer", shop.changed(pot, pole={"t": 55 * MM})),
        ("6 mm longer", shop.changed(pot, pole={"t": 58 * MM})),
        ("6 mm longer, the end a cone of 25 to 18 mm", shop.tip(
            (25 * MM, 25 * MM, 52 * MM), (25 * MM, 18 * MM, 6 * MM))),
        ("undercut: a waist of 22 mm below the plate, sloping 6 mm both ways", shop.tip(
            (25 * MM, 25 * MM, below - 12 * MM), (25 * MM, 22 * MM, 6 * MM), (22 * MM, 25 * MM, 6 * MM),
            (25 * MM, 25 * MM, 52 * MM - below))),
        ("tapered beside the plate, 25 to 23 mm", shop.tip(
            (25 * MM, 25 * MM, below), (25 * MM, 23 * MM, 52 * MM - below))),
        ("straight; bore opened from 28 to 30 mm in front", shop.changed(pot, top={"d_in_hi": 30 * MM})),
    ]  # fmt: skip
    rows, found = [], {}
    for words, design in tried:
        Bl, uneven, way = shape(pot, design)
        rows.append((words, dB(ratio(Bl, shop.at_rest(pot))), f"{100 * uneven:+.0f} %", show("x", way.x_down, 2),
                     show("x", way.x_up, 2)))  # fmt: skip
        found[words] = (Bl, uneven)
    planned, shorter, longer = (found[words] for words, _ in tried[:3])
    head = ("pole", "Bl", "uneven at 4 mm", "82 % inward", "82 % outward")
    return {
        "tips": table(head, *rows),
        "longer_gain": dB(ratio(longer[0], shop.at_rest(pot))),
        "shorter_cost": dB(ratio(shorter[0], shop.at_rest(pot))),
        "uneven_now": f"{100 * planned[1]:+.0f} %",
        "uneven_longer": f"{100 * longer[1]:+.0f} %",
    }


def shape(build: Solved, design: Design) -> tuple[float, float, Any]:
    """Bl at rest, how uneven it is over 4 mm each way, and the strokes at 82 %."""
    x = np.linspace(-12, 12, 97) * MM
    solution = shop.fields(build.problem(design), (build.field.solution.NI,)).solution
    Bl = abs(solution.Bl(*build.coil.rectangle, build.coil.N, x))
    return float(Bl[len(x) // 2]), stroke.asymmetry(x, Bl, 4 * MM), stroke.stroke(x, Bl)


def discs() -> Figures:
    """The ring magnet, and cups with more and more discs."""
    rows = [("72 × 32 × 15 mm ferrite ring, gap 1.3 mm", *motor_row(shop.ring_magnet()))]
    for count in (1, 2, 3, 4, 6):
        rows.append((f"cup, {count} × disc of 20 × 3 mm", *motor_row(shop.cup(count, 20 * MM, 3 * MM))))
    for count in (1, 2):
        rows.append((f"cup, {count} × disc of 25 × 5 mm", *motor_row(shop.cup(count, 25 * MM, 5 * MM))))
    return {"discs": table(("motor", "B in the gap", "Bl", "B in the magnet", "goes round the gap"), *rows)}


def states(build: Solved) -> tuple[MagnetState, ...]:
    """Where each magnet of a motor works."""
    return magnet_states(build.design.iron, build.field, build.T)


def motor_row(build: Solved) -> tuple[str, ...]:
    """One magnet motor in a line; of a pile of discs the lowest."""
    gap, state = travel.gap(build), states(build)[0]
    return (show("B_g", float(gap.B_r.max())), show("Bl", shop.at_rest(build)), show("B_m", state.B_m),
            show("leak", float(gap.leak), 2))  # fmt: skip


def bucking() -> Figures:
    """A second ring behind the back plate, turned round."""
    can = (shop.ring("floor", 90 * MM, 2 * MM, under="bucking", joint=shop.CLEAN),
           shop.ring("can", 90 * MM, 42 * MM, "floor", d_in=86 * MM))  # fmt: skip
    alone = shop.ring_magnet()
    tried = [("the motor alone", alone), ("a second ring of 8 mm", shop.with_bucking(t=8 * MM)),
             ("a second ring of 15 mm", shop.with_bucking()),
             ("that, in a steel can of 2 mm", shop.with_bucking(*can))]  # fmt: skip
    rows = []
    for words, build in tried:
        fields = [build.field.solution.B(*at) for at in STRAY.values()]
        stray = [f"{1000 * hypot(*(float(B[0, 0]) for B in field)):.2f} mT" for field in fields]
        margins = " and ".join(f"{float(each.dH) / 1000:+.0f}" for each in states(build))
        rows.append((words, dB(ratio(shop.at_rest(build), shop.at_rest(alone))), *stray, margins))
    head = ("ferrite ring motor", "Bl", *STRAY, "margins to the knee, kA/m")
    return {"bucking": table(head, *rows)}


def worst(build: Solved, alone: bool = False) -> tuple[Any, ...]:
    """What the knee of a motor's first magnet hangs on, at its worst place; of the magnet alone in air, too."""
    own = next(ring for ring in build.field.problem.rings if ring.magnet)
    problem = Problem((replace(own, z_lo=0.0, z_hi=own.z_hi - own.z_lo),)) if alone else build.field.problem
    known = magnets.grade(next(ring.grade for ring in build.design.iron.rings if ring.name == own.name))
    solution = shop.fields(problem, (0.0,)).solution
    return working_points(solution)[0].H_worst, build.T, known.alpha_B, known.HcJ, known.alpha_H, K_KNEE


def magnets_tried() -> list[tuple[str, tuple[Any, ...]]]:
    """Two magnets, each in its motor and alone."""
    ferrite, cup = shop.ring_magnet(), shop.cup(1, 25 * MM, 5 * MM)
    return [("ferrite ring in its motor", worst(ferrite)), ("the same ring alone in air", worst(ferrite, True)),
            ("neodymium disc in its cup", worst(cup)), ("the same disc alone in air", worst(cup, True))]  # fmt: skip


def used(place: tuple[Any, ...], T: np.ndarray) -> np.ndarray:
    """Share of the field strength at the knee that the worst place of a magnet has. [%]"""
    *_, HcJ, alpha_H, k_knee = place
    return 100 * (1 + np.asarray(knee_margin(*place, T)) / np.asarray(knee_field(HcJ, alpha_H, k_knee, T)))


def knees() -> Figures:
    """Where ferrite and neodymium meet their knees."""
    rows = []
    for words, place in magnets_tried():
        left = [f"{float(knee_margin(*place, T)) / 1000:+.0f} kA/m" for T in (-20.0, 20.0, 80.0)]
        rows.append((words, *left, show("T_knee", float(knee_temperature(*place)), 2)))
    return {"knees": table(("magnet, worst place", "left at -20 °C", "at 20 °C", "at 80 °C", "knee met at"), *rows),
            "T_max": show("T", magnets.grade("N42").T_max)}  # fmt: skip


def pulls() -> Figures:
    """What draws parts together while the motor is assembled, and the pole aside."""
    rows, cup = [], shop.cup(1, 25 * MM, 5 * MM)
    for words, build in (("ferrite ring motor", shop.ring_magnet()), ("cup, disc of 25 × 5 mm", cup)):
        for pull in forces.pulls(build):
            near = dict(zip((round(1000 * each, 1) for each in pull.lift), pull.F_lift, strict=True))
            rows.append((words, pull.name, *(show("F_lift", float(near[mm]), 2) for mm in (0.0, 1.0, 5.0, 10.0))))
    pot = shop.pot()
    aside, B = forces.sideways(pot), float(travel.gap(pot).B_r.max())
    assert aside
    rule = 80 * float(aside.e_pole) / (1.5 * MM)
    return {
        "pulls": table(("motor", "part", "closed", "1 mm apart", "5 mm", "10 mm"), *rows),
        "aside": show("F_side", aside.F_side, 2), "e_pole": show("e_pole", aside.e_pole),
        "aside_rule": show("F_side", rule, 2), "aside_rule_B": show("F_side", rule * (B / 0.65) ** 2, 2),
    }  # fmt: skip


def impedances() -> dict[str, np.ndarray]:
    """Blocked impedance of the voice coil: field coil open, closed by its supply, and with a copper thimble. [Ω]"""
    pot, capped, F = shop.pot(), shop.capped(), alternating.F
    Z = pot.blocked.eddies.Z(F)
    return {"field coil open": Z[:, 0, 0], "field coil on its supply": np.asarray(pot.blocked.at(F)),
            "field coil shorted": closed(Z, [0.0, np.inf]),
            "on its supply, copper thimble": np.asarray(capped.blocked.at(F))}  # fmt: skip


def currents() -> Figures:
    """R and L of the blocked voice coil in a table, and what the thimble costs."""
    rows, at = [], [int(np.argmin(abs(alternating.F - f))) for f in F]
    for words, Z in impedances().items():
        R, L = Z.real[at], 1000 * Z.imag[at] / (2 * np.pi * F)
        rows.append(
            (words, *(f"{plain(a, 2)} Ω, {plain(b, 2)} mH" for a, b in zip(R.tolist(), L.tolist(), strict=True)))
        )
    capped = shop.capped()
    air = float(capped.design.voice_coil.D_fi) - 25.4 * MM
    return {"currents": table(("voice coil held still", *(show("f", f) for f in F)), *rows),
            "thimble_air": show("t", air / 2), **kept(impedances())}  # fmt: skip


def kept(Z: dict[str, np.ndarray]) -> Figures:
    """What a supply leaves of R and L at 100 Hz, and a thimble of L at 10 kHz."""
    low, high = (int(np.argmin(abs(alternating.F - f))) for f in (F[0], F[-1]))
    bare, supply, _, thimble = Z.values()
    return {
        "R_supply": f"{100 * supply[low].real / bare[low].real:.0f} %",
        "L_supply": f"{100 * supply[low].imag / bare[low].imag:.0f} %",
        "L_thimble": f"{100 * thimble[high].imag / bare[high].imag:.0f} %",
    }


def hums() -> Figures:
    """The supply's ripple in the voice coil, as the share of a transformer's ratio of turns."""
    pot = shop.pot()
    hum = alternating.hum_of(pot)
    assert hum and pot.done.field_winding
    N_f = float(pot.done.field_winding.N)
    rows = [(show("f", tone.f), show("U_hum", tone.U_hum), f"{tone.U_hum * N_f / (tone.V_ripple * pot.coil.N):.2f}")
            for tone in hum.tones]  # fmt: skip
    ks = sorted(row[2] for row in rows)
    return {"hum": table(("ripple at", "in the voice coil", "k"), *rows), "k_least": ks[0], "k_most": ks[-1],
            "dV": show("dV", hum.dV), "L_A": show("L_A", hum.L_A, 2),
            "dV_least": show("dV", hum.dV_least, 2), "N_bucking": plain(hum.N_bucking),
            "bucked": dB(hum.dL_bucking)}  # fmt: skip


def switched() -> Figures:
    """Switching on and off, and what steel keeps."""
    pot = shop.pot()
    NI = [share * pot.field.solution.NI for share in iron_field.AROUND if share <= 1]
    whole = Solved(pot.design, pot.brief, shop.fields(pot.field.problem, NI), pot.done, pot.coil)
    found, rows = switching.switching(whole), []
    assert found
    for words, H_c in (("mild steel, annealed", 80.0), ("bright bar as bought", 200.0), ("hard bolt", 800.0)):
        left = abs(float(remanence(pot.field.solution, H_c).Bl(*pot.coil.rectangle, pot.coil.N)))
        rows.append((words, show("H_c", H_c), show("Bl", left, 2), f"{100 * left / shop.at_rest(pot):.0f} %"))
    return {
        "bolt_keeps": rows[-1][3],
        "remanence": table(("steel", "coercivity", "Bl that stays", "of the full one"), *rows),
        "t_95": show("t_I", found.t_I[1], 2), "t_63": show("t_I", found.t_I[0], 2),
        "tau_e": show("tau_e", found.tau_e, 2), "W_off": show("W_off", found.W_off, 2),
        "t_off": show("t_off", found.t_off, 2),
    }  # fmt: skip
