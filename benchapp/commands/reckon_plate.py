"""The questions of making a plate: bites, strips and the strength of a mordant, from figures."""

from __future__ import annotations

from collections.abc import Sequence

from benchapp.commands.context import Arguments, WrongUse
from benchapp.commands.reckon import ToldAnswer, refuse_options, require_options
from benchapp.quantities import Duration, Temperature
from benchapp.reckon import strength
from benchapp.reckon.answer import Input, Origin
from benchapp.reckon.bite import Area, bite_stages
from benchapp.reckon.strip import (
    Patch,
    Scale,
    Strip,
    estimate_note,
    shown_ms,
    strip_times,
    warmth_factor,
)


def answer_bite(arguments: Arguments) -> list[ToldAnswer]:
    """Single bites of times in all, given or read off a strip."""
    if arguments.tone or arguments.patch:
        require_options(arguments, "--patch", "--tone")
        refuse_options(arguments, "--tone", "--area")
        areas, rests_on, notes = _areas_of_strip(arguments)
        answer = bite_stages(areas, stop_out=arguments.stop_out, from_minute=getattr(
            arguments, "from"), rests_on=rests_on, more_notes=notes)
        return [ToldAnswer(answer)]
    require_options(arguments, "--area")
    refuse_options(arguments, "--area", "--reading", "--warmth", "--strip-warmth")
    return [ToldAnswer(bite_stages(
        [Area(name, time) for name, time in arguments.area], stop_out=arguments.stop_out,
        from_minute=getattr(arguments, "from")))]


def answer_strip(arguments: Arguments) -> list[ToldAnswer]:
    """Times for tones, read off a strip."""
    require_options(arguments, "--patch", "--tone")
    return [ToldAnswer(strip_times(_strip(arguments), arguments.tone,
                                   warmths=_warmths(arguments)))]


def answer_strength(arguments: Arguments) -> list[ToldAnswer]:
    """Degrees and specific gravity, or how to make a solution weaker."""
    scale = strength.Scale(arguments.scale) if arguments.scale else None
    if arguments.percent is not None or arguments.to_percent is not None:
        require_options(arguments, "--of", "--percent", "--to-percent", "--mass")
        refuse_options(arguments, "--percent", "--baume", "--gravity", "--to-baume", "--volume",
                       "--scale")
        return [ToldAnswer(strength.thinned_by_mass(
            arguments.of, arguments.percent, arguments.to_percent, arguments.mass))]
    if arguments.to_baume is not None:
        require_options(arguments, "--of", "--baume", "--volume")
        refuse_options(arguments, "--to-baume", "--gravity", "--mass")
        return [ToldAnswer(strength.thinned_by_volume(
            arguments.of, arguments.baume, arguments.to_baume, arguments.volume, scale))]
    if arguments.baume is None and arguments.gravity is None:
        raise WrongUse("Give --baume or --gravity. To thin a solution, give --of NAME, --baume and "
                       "--to-baume with --volume, or --percent and --to-percent with --mass")
    refuse_options(arguments, "--baume or --gravity alone", "--of", "--volume", "--mass")
    return [ToldAnswer(strength.strength_of(baume=arguments.baume, gravity=arguments.gravity,
                                            scale=scale))]


def _strip(arguments: Arguments) -> Strip:
    return Strip([Patch(time, reading) for time, reading in arguments.patch],
                 Scale(arguments.reading or Scale.REFLECTANCE))


def _warmths(arguments: Arguments) -> tuple[Temperature, Temperature] | None:
    if arguments.warmth is None and arguments.strip_warmth is None:
        return None
    require_options(arguments, "--strip-warmth", "--warmth")
    return arguments.strip_warmth, arguments.warmth


def _areas_of_strip(arguments: Arguments) -> tuple[list[Area], list[Input], Sequence[str]]:
    """Areas with the times of their tones, and what these rest on."""
    strip, warmths = _strip(arguments), _warmths(arguments)
    factor = 1.0 if warmths is None else warmth_factor(*warmths)
    areas, rests_on = [], []
    for name, tone in arguments.tone:
        ms = round(strip.time_for(tone) * factor)
        time = Duration(shown_ms(ms))
        areas.append(Area(name, time))
        rests_on.append(Input(name, f"{strip.text(tone)} after {time}", "", Origin.GIVEN,
                              "your strip"))
    notes = strip.notes() if warmths is None else (estimate_note(factor, *warmths), *strip.notes())
    return areas, rests_on, notes
