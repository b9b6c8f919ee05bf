"""What kind of bed this is, in the words by which tools, cautions and care are chosen."""

from __future__ import annotations

from hoopwright.design import Design

#: [m] Work above this over the ground is out of reach for many (common practice, no source).
OVERHEAD = 1.8
#: [m] Pipe from here on is carried with an eye on the wires above (common practice, no source).
LONG_PIPE = 3.0

#: How the tool table says when a tool is wanted -> the traits of which any one calls for it.
TOOL_WANTED: dict[str, frozenset[str]] = {
    "always": frozenset({"always"}),
    "optional": frozenset({"always"}),
    "pipe is plastic": frozenset({"plastic pipe"}),
    "pipe is EMT or fibreglass or a sleeve rod is used": frozenset(
        {"steel-emt", "fibreglass", "sleeves"}
    ),
    "pipe is EMT": frozenset({"steel-emt"}),
    "pipe is fibreglass": frozenset({"fibreglass"}),
    "film is clamped by battens": frozenset({"battens"}),
    "clips are cut from tube": frozenset({"slit clips"}),
    "stakes are used": frozenset({"stakes"}),
    "mesh band is used": frozenset({"mesh band"}),
}


def traits_of(design: Design) -> frozenset[str]:
    """Return the words that are true of this bed."""
    plan, cover = design.plan, design.cover
    found = {
        "always",
        design.hoop.pipe.material,
        design.hoop.pipe.bending,
        cover.material.kind,
        cover.style,
        f"box {plan.bed.box}",
        f"legs {plan.bed.legs}",
        "two straps" if design.hoop.leg.straps == 2 else "one strap",
        *cover.edges,
        *plan.wishes.animals,
    }
    found |= {"plastic pipe"} if design.hoop.pipe.stuff.is_plastic else set()
    found |= {"battens"} if cover.battens else set()
    held = design.hold_down
    found |= {"stakes"} if held.stakes or held.leg == "sleeve" else set()
    found |= {"sleeves"} if held.leg == "sleeve" else set()
    found |= {"mesh band"} if cover.mesh_band > 0 else set()
    found |= {"slit clips"} if cover.clip is not None and cover.clip.kind == "slit tube" else set()
    found |= {"treated"} if design.bed.species.decay == "treated" else set()
    found |= (
        {"digging"} if "bury" in cover.edges or found >= {"box standing", "legs inside"} else set()
    )
    found |= {"lacing"} if plan.cover.lacing else set()
    found |= {"ties"} if held.tied_to_soil else set()
    hoop = design.hoop
    found |= {"overhead"} if design.bed.height + hoop.crown_over_board > OVERHEAD else set()
    found |= {"long pipe"} if hoop.cut_length >= LONG_PIPE else set()
    found |= {"metal pipe"} if hoop.pipe.material.startswith("steel") else set()
    return frozenset(found)


def applies(when: str, traits: frozenset[str]) -> bool:
    """Return whether a row is for this bed: alternatives parted by "|", joined by "+"; "not " says
    what must not be true."""

    def holds(word: str) -> bool:
        wanted = word.removeprefix("not ")
        return (wanted in traits) is (wanted == word)

    return any(all(holds(w.strip()) for w in option.split("+")) for option in when.split("|"))
