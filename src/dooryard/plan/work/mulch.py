"""How much mulch a ring or a bed takes, and how many bags that is."""

from __future__ import annotations

from datetime import date

from dooryard.care import mulch
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Plan
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem
from dooryard.units import System


def ring(
    knowledge: Knowledge,
    on: date,
    *,
    reach_m: float,
    trunk_m: float,
    depth_mm: float | None,
    clear_m: float | None,
    bag_l: float | None,
    system: System = "us",
) -> Plan:
    """Mulch for a ring around a trunk.

    reach_m : from the middle of the trunk out [m]. trunk_m : diameter at the ground [m]. depth_mm : [mm], clear_m :
    bare strip around the bark [m], bag_l : what a bag holds [L]; the trade's usual ones if None.
    Raises InputError if the ring has no width.
    """
    sheet = Sheet("Mulch for a tree", knowledge, on, system)
    clear = sheet.fact("mulch.clear") if clear_m is None else clear_m
    try:
        area = mulch.ring_area_m2(reach_m, trunk_m, clear)
    except ValueError:
        inner = sheet.book.show(trunk_m / 2 + clear, "length")
        raise InputError(
            Problem(
                f"The ring would end where it begins, {inner} from the middle of the trunk.",
                "Give the distance from the middle of the trunk to the ring's outer edge.",
                field="--ring",
                found=sheet.book.show(reach_m, "length"),
            )
        ) from None
    inputs = (
        sheet.book.input("reach from the middle of the trunk", reach_m, "length", "given"),
        sheet.book.input("trunk, across", trunk_m, "length", "given"),
        sheet.book.input(
            "kept clear of the bark", clear, "length", "C-MDC-MULCH" if clear_m is None else "given"
        ),
    )
    shown = sheet.book.quantity("mulch.area", "area of the ring", area, "area", "care.ring", inputs=inputs)
    sheet.short.append(
        f"The ring covers {shown}. It begins {sheet.book.show(clear, 'length')} away from the bark."
    )
    _amount(sheet, area, depth_mm, bag_l, "care.ring")
    least = sheet.fact_range("mulch.clear")[0]
    if clear < least - 1e-9:
        sheet.refuse(
            f"We will not call {sheet.book.show(clear, 'length')} clear enough",
            f"At least {sheet.book.show(least, 'length')} around the bark stay bare",
            "Pull the mulch back until you see where the trunk widens into the roots",
        )
    return sheet.finish()


def bed(
    knowledge: Knowledge,
    on: date,
    *,
    area_m2: float,
    depth_mm: float | None,
    bag_l: float | None,
    system: System = "us",
) -> Plan:
    """Mulch for a bed. area_m2 : [m2]. depth_mm : [mm], bag_l : [L]; the trade's usual ones if None."""
    sheet = Sheet("Mulch for a bed", knowledge, on, system)
    sheet.short.append(f"The bed covers {sheet.book.show(area_m2, 'area')}.")
    _amount(sheet, area_m2, depth_mm, bag_l, "care.layer")
    return sheet.finish()


def _amount(sheet: Sheet, area_m2: float, depth_mm: float | None, bag_l: float | None, method: str) -> None:
    usual = depth_mm is None
    depth = sheet.fact("mulch.depth") if depth_mm is None else depth_mm
    bag = sheet.fact("mulch.bag") if bag_l is None else bag_l
    volume = mulch.volume_l(area_m2, depth)
    inputs = (
        sheet.book.input("area", area_m2, "area", "worked out"),
        sheet.book.input("depth", depth, "depth", "C-MDC-MULCH" if usual else "given"),
    )
    amount = sheet.space("mulch.volume", "mulch", volume, method, *inputs)
    count = mulch.bags(volume, bag)
    bags = sheet.book.plain(
        "mulch.bags",
        "bags of mulch",
        count,
        f"{count} bag" if count == 1 else f"{count} bags",
        method,
        inputs=(*inputs, sheet.book.input("one bag holds", bag, "volume", "given")),
    )
    depth_words = sheet.book.show(depth, "depth")
    sheet.short.append(
        f"At {depth_words} deep it takes {amount}, which is {bags} of {sheet.space_words(bag)}, or "
        f"{sheet.cubic_yards(volume)} loose."
    )
    low, high = sheet.fact_range("mulch.depth")
    most = sheet.fact("mulch.depth_most")
    if depth > most + 1e-9:
        sheet.refuse(
            f"We will not advise {depth_words} of mulch",
            f"More than {sheet.book.show(most, 'depth')} keeps air and rain from the roots",
            f"Lay {sheet.span(low, high, 'depth')}, and make the ring wider instead",
        )
    elif depth > high + 1e-9:
        sheet.short.append(
            f"That is more than the usual {sheet.span(low, high, 'depth')}: only for coarse mulch such as bark chunks."
        )
    sheet.caution("care.mulch_bark")
