"""Every number of motor.md, by the name under which the page asks for it. A text of several lines is a table."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import log10

import motor_shop as shop
import numpy as np

from handwound import stages
from handwound.motor import travel
from handwound.motor.solved import Solved
from handwound.physics.field import Problem, solve
from handwound.quantities import plain, show

RULE = 800.0
"""Ampere-turns for a tesla over a millimetre, as the bench has it: 1 mm / mu_0 is 796."""
SHARES = (0.25, 0.5, 1.0, 1.5, 2.0)
"""Ampere-turns tried, as shares of those of the example."""
MM = 1e-3
Figures = dict[str, str]


def dB(level: float) -> str:
    """A change of level with its sign."""
    text = f"{level:+.1f}"
    return f"{'0.0' if float(text) == 0 else text} dB"


def amps(NI: float) -> str:
    """Ampere-turns to the nearest one."""
    return f"{NI:.0f} A"


def table(*rows: Iterable[str]) -> str:
    """Rows as a table, the first one its head."""
    head, *body = ["| " + " | ".join(row) + " |" for row in rows]
    return "\n".join(["", "", head, "|" + "---|" * (head.count("|") - 1), *body, "", ""])


def ratio(a: float, b: float) -> float:
    """A ratio of two force factors as a level."""
    return 20 * log10(a / b)


def pot() -> Figures:
    """The motor that the page takes apart."""
    build = shop.pot()
    gap, fed = travel.gap(build), build.done.excitation
    assert fed
    full = {each.name: each for each in travel.filled(build)}
    return {
        "NI": amps(float(fed.NI)), "V_f": show("V_f", float(fed.V_f)), "I_f": show("I_f", float(fed.I_f)),
        "N_vc": plain(build.coil.N), "Bl": show("Bl", shop.at_rest(build)), "B_g": show("B_g", float(gap.B_r.max())),
        "leak": show("leak", float(gap.leak)), "phi": show("phi", float(gap.phi)),
        "phi_g": show("phi", float(gap.phi_g)), "B_pole": show("B_s", float(full["pole"].B_s)),
        "B_shell": show("B_s", float(full["shell"].B_s)), "L_1W": show("L_1W", float(build.done.driver.L_1W)),
        "tenth_less": dB(ratio(shop.Bl(build, build.field.problem, 0.9 * float(fed.NI)), shop.at_rest(build))),
    }  # fmt: skip


def open_spool() -> Figures:
    """The same plates, pole and field coil without a return path."""
    pot = shop.pot()
    spools = [("open spool, flange turned to the pole's 25 mm", shop.spool(25 * MM)),
              ("open spool, flange 45 mm", shop.spool(45 * MM)),
              ("open spool, flange 68 mm, the same plates", shop.spool(68 * MM))]  # fmt: skip
    rows, levels = [], []
    for name, build in [("pot", pot), *spools]:
        Bl, l_w, driver = shop.at_rest(build), build.done.voice_winding.l_w, build.done.driver
        per_metre = ratio(Bl / l_w, shop.at_rest(pot) / pot.done.voice_winding.l_w)
        levels.append(driver.L_1W - pot.done.driver.L_1W)
        rows.append((name, show("Bl", Bl), show("Re", driver.Re, 2), dB(ratio(Bl, shop.at_rest(pot))), dB(per_metre),
                     dB(levels[-1])))  # fmt: skip
    head = ("motor", "Bl", "voice coil", "Bl, turn for turn", "Bl, metre for metre of wire", "level for 1 W")
    return {"spools": table(head, *rows), "spool_least": rows[1][4], "spool_most": rows[-1][4],
            **_driven(spools[-1][1]),
            "no_pipe": dB(shop.cost(pot, lost(pot, "shell")))}  # fmt: skip


def _driven(spool: Solved) -> Figures:
    """What four and sixteen times the ampere-turns bring an open spool, and how full it then is."""
    NI, coil, found = spool.field.solution.NI, spool.coil, {}
    for k, word in ((4, "four"), (16, "sixteen")):
        solution = solve(spool.field.problem, k * NI)
        Bl = abs(float(solution.Bl(*coil.rectangle, coil.N)))
        found[f"spool_{word}"] = dB(ratio(Bl, shop.at_rest(spool)))
        found[f"full_{word}"] = show("B_s", max(ring.B_s for ring in solution.ring_B()))
    return found


def lost(build: Solved, *names: str) -> Problem:
    """The build without some of its rings, all else where it was."""
    rings = tuple(ring for ring in build.field.problem.rings if ring.name not in names)
    return replace(build.field.problem, rings=rings)


def tried() -> list[tuple[str, str, Problem]]:
    """What goes wrong in the iron of the pot: the key, the words, the motor."""
    pot = shop.pot()

    def iron(**changes: dict[str, object]) -> Problem:
        return pot.problem(shop.changed(pot, **changes))

    paint = {"joint": shop.PAINTED}
    return [
        ("pipe", "no pipe", lost(pot, "shell")),
        ("top", "top plate of brass", iron(top={"grade": "brass"})),
        ("back", "back plate of brass", iron(back={"grade": "brass"})),
        ("hole", "18 mm hole in the back plate under the pole, open", iron(back={"d_in": 18 * MM})),
        ("two", "two joints painted, of pole and of pipe on the back plate", iron(pole=paint, shell=paint)),
        ("three", "all three joints painted", iron(pole=paint, shell=paint, top=paint)),
    ]


def faults() -> Figures:
    """What each fault costs, at few and at many ampere-turns."""
    pot = shop.pot()
    NI = [share * pot.field.solution.NI for share in SHARES]
    place, N = pot.coil.rectangle, pot.coil.N

    def levels(problem: Problem) -> np.ndarray:
        return np.array([abs(float(each.Bl(*place, N))) for each in shop.fields(problem, NI).solutions])

    sound, found, rows = levels(pot.field.problem), {}, []
    for key, words, problem in tried():
        costs = [ratio(bad, good) for bad, good in zip(levels(problem), sound, strict=True)]
        rows.append((words, *map(dB, costs)))
        found |= {f"{key}_cost": dB(costs[SHARES.index(1.0)]), f"{key}_most": dB(min(costs)),
                  f"{key}_least": dB(max(costs))}  # fmt: skip
    head = ("at", *map(amps, NI))
    return found | {"faults": table(head, ("Bl of the sound motor", *(show("Bl", each) for each in sound)), *rows)}


def paint_for(level: float) -> float:
    """Air in each of two joints that costs so many decibels. [m]"""
    pot, joints = shop.pot(), np.array([0.2, 0.3, 0.4, 0.5]) * MM
    costs = [shop.cost(pot, pot.problem(shop.changed(pot, pole={"joint": j}, shell={"joint": j}))) for j in joints]
    return float(np.interp(-level, [-each for each in costs], joints))


def slices() -> Figures:
    """Parts made of washers or slices."""
    pot = shop.pot()
    piles = (("top plate, 4 rings", "top", 4), ("back plate, 4 discs", "back", 4), ("pole, 26 slices", "pole", 26))
    joints = (("clean", shop.CLEAN), ("as bought", shop.AS_BOUGHT))
    rows = [
        (words, *(dB(shop.cost(pot, pot.problem(shop.sliced(name, count, joint)))) for _, joint in joints))
        for words, name, count in piles
    ]
    head = ("in place of one piece", *(f"joints {word}, {show('joint', joint)} each" for word, joint in joints))
    return {"slices": table(head, *rows), "pole_slices": rows[-1][2], "top_slices": rows[0][2],
            "clean": show("joint", shop.CLEAN), "painted": show("joint", shop.PAINTED),
            "paint_for": show("joint", paint_for(-2.7), 1),
            "paint_sum": dB(ratio(1.5 * MM, 1.5 * MM + 2 * (shop.PAINTED - shop.CLEAN)))}  # fmt: skip


def depth() -> Figures:
    """Where the coil rests."""
    pot = shop.pot()
    x = np.array([-9, -6, -3, 0, 3, 6, 9]) * MM
    Bl = abs(pot.field.solution.Bl(*pot.coil.rectangle, pot.coil.N, x))
    levels = [ratio(float(each), shop.at_rest(pot)) for each in Bl]
    words = [f"{abs(each) / MM:.0f} mm {'in' if each < 0 else 'out'}" if each else "as planned" for each in x]
    way = travel.travel(pot)
    return {
        "depth": table(("coil set", *words), ("Bl", *map(dB, levels))),
        "far_out": dB(levels[5]), "far_in": dB(levels[1]), "farther_in": dB(levels[0]),
        "x_most": show("x", -float(way.x_most)), "x_even": show("x", -float(way.x_even)),
        "most_gain": dB(ratio(float(way.Bl_max), shop.at_rest(pot))),
    }  # fmt: skip


def turns() -> Figures:
    """Field coils of three wires and three numbers of layers, on a voltage and on a current."""
    pot, wires = shop.pot(), shop.example("open-day")[2]
    coil, supply = pot.design.field_coil, pot.brief.supply
    assert coil and supply
    held, rows = 0.6, []
    for name in ("0.40", "reel 0.50", "0.56"):
        for n_l in (10, 15, 20):
            tried = replace(coil, wire=wires[name], n_l=n_l)
            wound = stages.winding(tried, pot.brief.T_room)
            fed = stages.excite(tried, wound, wound.R_T, supply)
            N, R_T = float(wound.N), float(wound.R_T)
            limit = f", at its {show('I_f', float(fed.I_f))}" if fed.limit == "current" else ""
            rows.append((f"{name.removeprefix('reel ')} mm", plain(n_l), plain(N, 4), show("R_T", R_T),
                         amps(float(fed.NI)) + limit, show("P_f", float(fed.P_f)),
                         amps(N * held), show("P_f", held**2 * R_T)))  # fmt: skip
    V = show("V_max", float(supply.V_max))
    head = ("wire", "layers", "turns", "cold", f"on {V}", "watts", f"on {show('I_f', held)}", "watts")
    return {"turns": table(head, *rows)}


def rule() -> Figures:
    """The rule for ampere-turns against the solved pot."""
    pot = shop.pot()
    low, high = map(float, pot.design.iron.plate_levels())
    r_in, r_out = 12.5 * MM, 14 * MM
    rows = []
    for share in SHARES:
        solution = shop.fields(pot.field.problem, (share * pot.field.solution.NI,)).solution
        B = abs(solution.gap_B((r_in + r_out) / 2, low, high))
        bare = RULE * B * (r_out - r_in) / MM
        full = max(solution.ring_B(), key=lambda each: each.B_s)
        rows.append((amps(solution.NI), show("B_g", B), amps(bare), f"{solution.NI / bare:.2f}",
                     f"{full.name}, {show('B_s', full.B_s)}, {full.word}"))  # fmt: skip
    head = ("ampere-turns", "B in the gap", "800 a tesla and millimetre", "times", "fullest part")
    times = sorted(row[3] for row in rows)
    return {"rule": table(head, *rows), "rule_least": times[0], "rule_most": times[-1]}


def walls() -> Figures:
    """The pot with pipes of other walls: how much iron the way back needs."""
    pot, rows, d_in = shop.pot(), [], 53.1 * MM
    for wall in np.array([1.0, 1.5, 2.0, 2.5, 3.0, 3.6, 5.0]) * MM:
        problem = pot.problem(shop.changed(pot, shell={"d_out": d_in + 2 * wall}))
        shell = next(each for each in shop.fields(problem, (pot.field.solution.NI,)).solution.ring_B()
                     if each.name == "shell")  # fmt: skip
        area = ((d_in + 2 * wall) ** 2 - d_in**2) / (25 * MM) ** 2
        rows.append((show("t", wall), f"{area:.2f}", f"{show('B_s', shell.B_s)}, {shell.word}",
                     dB(shop.cost(pot, problem))))  # fmt: skip
    return {"walls": table(("wall of the pipe", "its area over the pole's", "in it", "level"), *rows)}


def gaps() -> Figures:
    """More layers in a wider gap, and the least gap that the brief's air allows."""
    pot = shop.pot()
    voice, c_o, rows = pot.design.voice_coil, float(pot.done.clearance.c_o or 0), []
    assert voice.wire
    for n_l in (1, 2, 3, 4, 6):
        bore = float(voice.D_f) + 2 * n_l * float(voice.wire.d_o) + 2 * c_o
        # the field coil's tube makes way as the bore does
        design = replace(shop.changed(pot, top={"d_in": bore}), voice_coil=replace(voice, n_l=n_l))
        build = shop.taken(design, pot.brief)
        Bl, Re = shop.at_rest(build), build.done.driver.Re
        rows.append((plain(n_l), show("t", (bore - 25 * MM) / 2), show("Bl", Bl), show("Re", Re), f"{Bl**2 / Re:.2f}",
                     show("m_vc", build.done.moving.m_vc), show("L_1W", build.done.driver.L_1W)))  # fmt: skip
    head = ("layers", "gap", "Bl", "Re", "Bl²/Re in N²/W", "wire", "level for 1 W")
    loudest = max(rows, key=lambda row: float(row[-1].split()[0]))
    return {"layers": table(head, *rows), "best_layers": loudest[0]} | least_gap(pot)


def least_gap(pot: Solved) -> Figures:
    """The bore with no more air outside the coil than the brief wants, and what each tenth of air is worth."""
    c_min, D_w = float(pot.brief.c_min), float(pot.done.voice_winding.D_w)
    bores = {"tight": D_w + 2 * c_min, "now": 28 * MM, "wider": 28.2 * MM}
    worth = {name: shop.cost(pot, pot.problem(shop.changed(pot, top={"d_in": d}))) for name, d in bores.items()}
    c_i, c_o = float(pot.done.clearance.c_i or 0), float(pot.done.clearance.c_o or 0)
    return {
        "c_min": show("c_min", c_min), "c_i": show("c_i", c_i), "c_o": show("c_o", c_o),
        "gap_now": show("t", 1.5 * MM), "gap_tight": show("t", (bores["tight"] - 25 * MM) / 2),
        "bore_tight": show("d_in", bores["tight"]), "tight_gain": dB(worth["tight"]), "tenth": dB(worth["wider"]),
    }  # fmt: skip
