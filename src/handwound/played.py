"""The programme of the brief in drivers that are all a little different: its heat answers to their own numbers.

Ten thousand impedances over all that is heard take too long, so the answer is taken from ten.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from handwound.parts.design import Brief
from handwound.parts.prediction import Chain
from handwound.parts.programme import Programme
from handwound.programme import turned
from handwound.quantities import Num
from handwound.sounding import Blocked
from handwound.spread import PERCENT, ROUND_OFF
from handwound.warmth import played_in

NUMBERS = {"Bl": "motor", "Re": "driver", "Mms": "moving", "Kms": "moving", "Rms": "moving"}
"""What the impedance of a driver hangs on, and the stage that has it. Its inductance is taken as that of all."""


@dataclass(frozen=True, eq=False)
class Around:
    """A driver, and the programme of its brief in it."""

    found: Chain
    brief: Brief
    Z_b: Blocked
    programme: Programme

    def __call__(self, loose: Chain, brief: Brief) -> Programme:
        r"""The programme in draws of the driver: a parabola in the logarithm of each number, through its own ends.

        .. math:: \ln k = \sum_j (a_j u_j + b_j u_j^2), \quad u_j = \ln(x_j / x_{j,0})

        Nine of ten are within one per cent of the full impedance (a test looks); beyond the ends of a wide number, as
        a stiffness is, it may be some per cent.
        """
        k = np.exp(sum(self._answer(name, loose) for name in NUMBERS))
        programme = turned(self.programme, brief.crest, brief.level)
        P_rel = programme.P_rel.reshape(len(self.programme.P_rel), -1) * k
        return replace(programme, heat_share=self.programme.heat_share * k, P_rel=P_rel)

    def _answer(self, name: str, loose: Chain) -> Num:
        """What the spread of one number does to the logarithm of the heat."""
        u = np.log(_of(loose, name) / _of(self.found, name))
        end = float(np.max(np.abs(np.percentile(u, PERCENT[:2]))))
        if end < ROUND_OFF:
            return 0.0
        down, up = (np.log(self._share(name, np.exp(each)) / self.programme.heat_share) for each in (-end, end))
        answer: Num = (up - down) / 2 * (u / end) + (up + down) / 2 * (u / end) ** 2
        return answer

    def _share(self, name: str, factor: float) -> Num:
        """The share of the heat where one number is so many times what it is."""
        stage = NUMBERS[name]
        part = getattr(self.found, stage)
        changed = {name: getattr(part, name) * factor}
        if name == "Mms":  # the air that is moved stays
            changed["Mmd"] = part.Mmd + part.Mms * (factor - 1)
        other = replace(self.found, **{stage: replace(part, **changed)})
        return played_in(other, self.brief, self.Z_b).heat_share


def _of(found: Chain, name: str) -> Num:
    value: Num = getattr(getattr(found, NUMBERS[name]), name)
    return value
