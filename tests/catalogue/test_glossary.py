"""The glossary knows the trade's words and every kind of part."""

import pytest

from schematic.catalogue.glossary import meaning, part, parts, terms

KINDS = """float shoe, reamer shoe, guide shoe, joint, pup joint, float collar, landing collar,
centralizer, crossover, liner hanger, liner top packer, tie-back receptacle, setting sleeve, debris
barrier, stage collar, external packer, swivel, wiper plug, running tool, inner string, slick joint,
pack-off, drill pipe, heavy-weight drill pipe, ball, dart, casing, conductor, open hole, rathole,
shoe track, lap, top of cement"""
# words that step cards, findings, tables and fields use, none of them the name of a part
SHOWN = """plastic viscosity, yield point, gradient, features, driven, off bottom, final pressure, bump over final,
closure, rating, port, host, bleed off, block included, bottoms up, bridge, brine, buttress, cased hole, circulate the long way,
circulating limit, closed end, compressibility, condition the hole, core, credited, drag, drawdown, elevators, EMW,
fill, fins, friction factor, gelled, grade, helical buckling, hydrostatic, inclination, junk, kick, kill mud, leak-off,
least gap, lift pressure, losses, mix water, neutral weight, over-displacement, overpull, packer, pin, ppg,
pressure ladder, pressure window, pump efficiency, pump-out force, pup, rams, range 3, reciprocate, red zone, retarded,
returns, reverse out, safety valve, scrape, sg, shakers, shut in, silica, sinusoidal buckling, slurry, space out,
special clearance, special drift, spike, stab, stand of pipe, static, station, stick-up, strokes, sweep, tag, tail pipe,
tally, tapered string, tension factor, thickening time, tongs, tool joint, torque, travel, trip margin, trip tank,
U-tube, waiver, wall left, wash down, wear, wet shoe, wiper trip"""


@pytest.mark.parametrize("kind", [" ".join(kind.split()) for kind in KINDS.split(",")])
def test_every_kind_of_part_says_what_it_does(kind):
    found = part(kind)

    assert found is not None
    assert found.kind == kind
    assert found.does.endswith(".")


@pytest.mark.parametrize("word", [" ".join(word.split()) for word in SHOWN.split(",")])
def test_every_word_of_the_trade_that_is_shown_has_an_entry(word):
    assert meaning(word) is not None


def test_spelling_is_forgiving():
    assert part("Tie_back receptacle") is part("tie-back receptacle")
    assert part("liner_hanger") == part("LINER HANGER")
    assert meaning("u tube") == meaning("U-tube") is not None
    assert meaning("tvd").startswith("True vertical depth")


def test_an_unknown_word_has_no_meaning():
    assert meaning("flux capacitor") is None
    assert part("flux capacitor") is None


def test_a_part_is_a_word_too():
    assert meaning("shoe track") == part("shoe track").does


def test_all_terms_are_sentences_in_alphabetical_order():
    listed = terms()

    assert list(listed) == sorted(listed, key=str.casefold)
    assert {found.kind for found in parts()} <= set(listed)
    for term, text in listed.items():
        assert text.endswith("."), term
        assert meaning(term) == text


def test_a_part_assumes_no_rating():
    """Typical sizes help a reader; only the wiper plug's release band is a pressure."""
    with_pressure = {found.kind for found in parts() if found.typical and "Pa" in found.typical}

    assert with_pressure == {"wiper plug"}
