"""Single sentences of the trade by what is hard in them: each has one right reading by docs/notes.md."""

import pytest

from putback.capture import understand

# Each step as item | action | count | tool | torque unit | angle; what stands behind the last word is left out.
TOOLS = {
    "With a 13 I took the two bracket bolts out.": ["bracket bolts | remove | 2 | 13 mm"],
    "Using the T30 I undid both screws.": ["screws | remove | 2 | T30"],
    "Took the shield off with an 8 mm socket.": ["shield | remove | | 8 mm"],
    "The bracket bolts came out with a 13.": ["bracket bolts | remove | | 13 mm"],
    "Dust seal prised off with the flat screwdriver, circlip out with a pick.": [
        "dust seal | remove | | flat screwdriver",
        "circlip | remove | | pick",
    ],
    "Joints off with the splitter.": ["joints | remove | | splitter"],
    "Head off with two taps of the rubber mallet.": ["head | remove | | rubber mallet"],
    "Two slide pin bolts (13 mm) were removed.": ["slide pin bolts | remove | 2 | 13 mm"],
    "Four bolts (13) out, cover off.": ["bolts | remove | 4 | 13 mm", "cover | remove"],
    "Two bolts of 8 out.": ["bolts | remove | 2 | 8 mm"],
    "Put a 14 on the tensioner, rotate it, belt off.": ["tensioner | loosen | | 14 mm", "belt | remove"],
    "The upper bolt and the lower bolt out, both 16 mm.": [
        "upper bolt | remove | | 16 mm",
        "lower bolt | remove | | 16 mm",
    ],
    "Took the cover off with long nose pliers.": ["cover | remove | | long nose pliers"],
    "Two screws, Allen of six. The two out.": ["screws | remove | 2 | 6 mm hex"],
    "I disconnect the battery, key of ten.": ["battery | unplug | | 10 mm"],
    "Two screws, slotted, both out.": ["screws | remove | 2 | flat screwdriver"],
}
DESCRIBED = {
    "Ten bolts on the cover, half inch. Cracked all ten.": ["bolts | loosen | 10 | 1/2 in"],
    "Three screws hold the motor, T20. All three out.": ["screws | remove | 3 | T20"],
    "Two bolts hold the carrier, 15 mil. Undo those.": ["bolts | remove | 2 | 15 mm"],
    "The mount has three bolts, 16 mm, and two nuts below, 18 mm. All five off.": [
        "bolts | remove | 3 | 16 mm",
        "nuts | remove | 2 | 18 mm",
    ],
    "There are four nuts on the manifold, 12 mm. Took them off.": ["nuts | remove | 4 | 12 mm"],
    "The lower anchor bolt is a T50. Remove that.": ["lower anchor bolt | remove | | T50"],
    "Three bolts, 10 mm. All three out.": ["bolts | remove | 3 | 10 mm"],
}
CORRECTED = {
    "Took out the upper bolt, no, the lower one, 15 mm.": ["lower bolt | remove | | 15 mm"],
    "Two screws out, T25. No, T30.": ["screws | remove | 2 | T30"],
    "Undertray off, six screws, T25. Scratch that, they're T20.": ["undertray | remove", "screws | remove | 6 | T20"],
    "I pulled the left plug, no wait, the right plug.": ["right plug | unplug"],
    "Six bolts, 10 mm. Sorry, eight bolts. All eight out.": ["bolts | remove | 8 | 10 mm"],
    "Hose off. Scratch that.": [],
}
WITHOUT_STOPS = {
    "undid the two bolts caliper off hung it up on a wire pads out": [
        "bolts | remove | 2",
        "caliper | set aside",
        "pads | remove",
    ],
    "wheel off liner out two bolts thirteen off bracket off pump out": [
        "wheel | remove",
        "liner | remove",
        "bolts | remove | 2 | 13 mm",
        "bracket | remove",
        "pump | remove",
    ],
    "cover off four clips undone filter out new filter in cover on": [
        "cover | remove",
        "clips | remove | 4",
        "filter | remove",
        "filter | fit",
        "cover | fit",
    ],
    "hose back on clamp tight fill it up with coolant and bleed it": [
        "hose | close",
        "clamp | tighten",
        "coolant | fill",
        "coolant | bleed",
    ],
    "took the cover off undid the clip and pulled the hose off": ["cover | remove", "clip | remove", "hose | open"],
    "spanner on the tensioner belt off": ["belt | remove"],
}
NO_PARTS = {
    "I taped the bolts to a bit of cardboard.": [],
    "Bolts went in the tray.": [],
    "Handbrake on, ignition off, wheel off.": ["wheel | remove"],
    "Put a rag in the inlet port.": ["rag | fit"],
    "Blue cap on each pipe.": ["blue cap | fit | 2"],
    "Plugged the hose with a bung.": ["bung | fit"],
}
HELD = {
    "Put the trolley jack under the gearbox. Mount off. Mount on. Jack out.": [
        "gearbox | support | | trolley jack",
        "mount | remove",
        "mount | fit",
        "gearbox | unsupport | | jack",
    ],
    "Engine hung from the support bar. Bar off.": ["engine | support | | support bar", "engine | unsupport | | bar"],
    "Strapped the radiator up to the slam panel.": ["radiator | set aside"],
    "Car up on the lift. Wheels off. Car down.": ["car | raise", "wheels | remove", "car | lower"],
    "Pried the arm down with a bar.": ["arm | lower | | bar"],
}
MOODS = {
    "The plug is behind the bulkhead, leave it on.": [],
    "Don't undo the brake hose, just hang the caliper up.": ["caliper | set aside"],
    "You could take the bumper off but I didn't.": [],
    "The book says bumper off, but I took the liner out.": ["liner | remove"],
    "Next time I'd go from above.": [],
    "Panel off. Panel on, three screws, not tight.": ["panel | remove", "panel | fit", "screws | fit | 3"],
    "Got three nuts off, the last one was seized.": ["nuts | remove | 3"],
}
TORQUES = {
    "Caliper on, both slider bolts 28 Nm.": ["caliper | fit", "slider bolts | tighten | 2 | | 28 N·m"],
    "Carrier to 105 Nm and the slider bolts to 28 Nm.": [
        "carrier | tighten | | | 105 N·m",
        "slider bolts | tighten | | | 28 N·m",
    ],
    "New bolts, 25 Nm plus 90 degrees.": ["bolts | tighten | | | 25 N·m | 90"],
    "59 N·m for the top bolt, 44 lbf ft for the bottom bolt.": [
        "top bolt | tighten | | | 59 N·m",
        "bottom bolt | tighten | | | 44 lbf·ft",
    ],
    "Drain plug in with a new washer, 30 Nm.": ["drain plug | tighten | | | 30 N·m", "washer | fit"],
    "Plate back on with all six bolts at 22 foot pounds.": ["plate | fit", "bolts | tighten | 6 | | 22 lbf·ft"],
    "Banjo bolts in, 4 new copper washers, 30 Nm.": ["banjo bolts | tighten | | | 30 N·m", "copper washers | fit | 4"],
    "Three bolts at 180 Nm (133 lb-ft).": ["bolts | tighten | 3 | | 180 N·m"],
    "The anchor bolt gets 30 foot pounds.": ["anchor bolt | tighten | | | 30 lbf·ft"],
    "Bracket was installed, bolts torqued to 65 ft-lb.": ["bracket | fit", "bolts | tighten | | | 65 lbf·ft"],
    "Crossover on, new nuts, 25 ft-lbs.": ["crossover | fit", "nuts | tighten | | | 25 lbf·ft"],
}
JOINED = {
    "Unplugged the coil and the crank sensor and the oil pressure switch.": [
        "coil | unplug",
        "crank sensor | unplug",
        "oil pressure switch | unplug",
    ],
    "Bracket off, hose off, so's the pump.": ["bracket | remove", "hose | open", "pump | remove"],
    "The clip, which I slackened with a screwdriver, is at the top.": ["clip | loosen | | screwdriver"],
    "Lift the caliper and carrier off and hang them.": ["caliper | set aside", "carrier | set aside"],
    "Released the clips and lifted the airbox lid off.": ["clips | loosen", "airbox lid | remove"],
}
ALL = {
    text: steps
    for group in (TOOLS, DESCRIBED, CORRECTED, WITHOUT_STOPS, NO_PARTS, HELD, MOODS, TORQUES, JOINED)
    for text, steps in group.items()
}


def told(step) -> str:
    """A step in one line, without what is not told."""
    torque = f"{step.torque:g} {step.unit}" if step.torque is not None else ""
    angle = f"{step.angle:g}" if step.angle else ""
    fields = (step.item, step.action, str(step.count or ""), step.tool or "", torque, angle)
    return " | ".join(fields).rstrip(" |").replace("|  |", "| |").replace("|  |", "| |")


@pytest.mark.parametrize("text", ALL)
def test_a_hard_sentence_is_read_as_it_is_meant(text):
    """Items, actions, counts, tools, torques and angles, in the order in which they were told."""
    assert [told(step) for step in understand(text).events] == ALL[text]
