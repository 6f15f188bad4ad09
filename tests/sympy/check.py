"""Holds the verdicts of `whorl judge` against sympy, a general computer-algebra library.

    WHORL_CLI=path/to/whorl python tests/sympy/check.py

Makes pairs of expressions from a fixed seed: half of them rewritten so that they stay equal, half
changed in one place. For each pair the program is told that z equals the first and is given the second
as an answer, alone or as an equation about z; it has to accept those, and only those, that sympy finds
equal. Prints how many there were; exit code 1 when one verdict differs. The few that the program refuses
to decide, in its own words because they are too large, are counted apart.

sympy decides by bringing the difference of the two over one denominator and multiplying the numerator
out: a fraction of polynomials is zero exactly when that leaves nothing. `simplify`, which tries many
other things on top, takes nine times as long; it is asked for every twentieth pair, and has to agree.
"""

import json
import os
import random
import re
import subprocess
import sys
import tempfile
from collections import Counter
from fractions import Fraction
from functools import cache
from pathlib import Path

import sympy

SEED = 2024
PAIRS = 2100
SIMPLIFIED = 20  # every so many pairs, simplify is asked too
LETTERS = "pquvw"
SYMBOLS = {letter: sympy.Symbol(letter) for letter in LETTERS}
Z = sympy.Symbol("z")
# What the program reads at most; longer pairs would only show that it refuses them.
MOST_CHARACTERS = 400
MOST_POWER = 12
# Pairs of either kind that have to be decided.
LEAST = 1000
# What the program says where it cannot decide.
TOO_LARGE = "The numbers or powers in this are too large."


# Making pairs -------------------------------------------------------------------------------------
#
# An expression is text from the start: sympy tidies up what it reads, and the program has to be given
# what a person might type, untidied.


def expression(rng, depth):
    """Text of a random expression, and how tightly it binds: 0 sum, 1 product, 2 power, 3 single."""
    if depth == 0 or rng.random() < 0.15:
        return (rng.choice(LETTERS), 3) if rng.random() < 0.75 else (str(rng.randint(1, 9)), 3)
    kind = rng.choice(["sum", "sum", "sum", "product", "product", "quotient", "quotient", "power"])
    if kind == "power":
        return f"{bound(expression(rng, depth - 1), 3)}^{rng.choice([2, 2, 3, -1, -2])}", 2
    left, right = expression(rng, depth - 1), expression(rng, depth - 1)
    if kind == "sum":
        return f"{bound(left, 0)} {rng.choice('+-')} {bound(right, 1)}", 0
    sign = "*" if kind == "product" else "/"
    return f"{bound(left, 1)}{sign}{bound(right, 2)}", 1


def bound(part, strength):
    text, own = part
    return text if own >= strength else f"({text})"


@cache
def in_sympy(text):
    return sympy.parse_expr(text.replace("^", "**"), local_dict={**SYMBOLS, "z": Z})


REWRITINGS = {
    "expand": lambda rng, value: sympy.expand(value),
    "factor": lambda rng, value: sympy.factor(value),
    "together": lambda rng, value: sympy.together(value),
    "apart": lambda rng, value: sympy.apart(value, SYMBOLS[rng.choice(LETTERS)]),
    "cancel": lambda rng, value: sympy.cancel(value),
    "simplify": lambda rng, value: sympy.simplify(value),
}


def by_hand(rng, text):
    """An identity that sympy would undo while reading."""
    other = bound(expression(rng, 1), 3)
    return rng.choice(
        [
            f"({text})*{other}/{other}",
            f"{other} + ({text}) - {other}",
            f"-(-({text}))",
            f"1/(1/({text}))",
            f"({text})/2 + ({text})/2",
            f"(({text})^2 - {other}^2)/(({text}) + {other}) + {other}",
        ]
    )


def changed(rng, text):
    """One letter, number or sign changed, or a factor or a term too many."""
    places = [index for index, c in enumerate(text) if c in LETTERS or c in "+*" or c.isdigit()]
    place = rng.choice(places)
    c = text[place]
    if rng.random() < 0.15:
        return rng.choice([f"2*({text})", f"({text}) + 1", f"-({text})", f"({text})*{rng.choice(LETTERS)}"])
    if c in LETTERS:
        new = rng.choice(LETTERS.replace(c, ""))
    elif c.isdigit():
        new = str(int(c) % 9 + 1)
    else:
        new = {"+": "-", "*": "/"}[c]
    return text[:place] + new + text[place + 1 :]


def as_answer(rng, text):
    """The second of a pair, as it is typed: alone, or in an equation that says that z equals it."""
    factor = rng.choice(LETTERS)
    return rng.choice(
        [
            text,
            text,
            f"z = {text}",
            f"{text} = z",
            f"z*{factor} = {factor}*({text})",
            f"z - ({text}) = 0",
            f"({text}) + {factor} = {factor} + z",
        ]
    )


def pair(rng, equal):
    """(first, second, answer, how) as text, or None when this try made none that can be used."""
    first, _ = expression(rng, rng.randint(2, 4))
    if divides_by_zero(first):
        return None
    value = in_sympy(first)
    if not equal:
        how, second = "changed", changed(rng, first)
    elif rng.random() < 0.4:
        how, second = "by hand", by_hand(rng, first)
    else:
        how = rng.choice(list(REWRITINGS))
        second = str(REWRITINGS[how](rng, value)).replace("**", "^")
    answer = as_answer(rng, second)
    if max(len(first), len(answer)) > MOST_CHARACTERS or second == first or divides_by_zero(second):
        return None
    powers = [abs(int(power.exp)) for side in (first, second) for power in in_sympy(side).atoms(sympy.Pow)]
    return (first, second, answer, how) if max(powers, default=0) <= MOST_POWER else None


def divides_by_zero(text):
    """Whether something below a line, or with a negative power, is zero at each of five points."""
    exact = re.sub(r"(?<![\^\d])(?<!\^-)(?<!\^\(-)(\d+)", r"Fraction(\1)", text).replace("^", "**")
    rng = random.Random(SEED)
    for _ in range(5):
        point = {letter: Fraction(rng.randint(10, 10**6), rng.randint(10, 10**6)) for letter in LETTERS}
        try:
            eval(exact, {"Fraction": Fraction, **point})
            return False
        except ZeroDivisionError:
            pass
    return True


def make_pairs():
    rng = random.Random(SEED)
    pairs, seen = [], set()
    while len(pairs) < PAIRS:
        made = pair(rng, equal=len(pairs) % 2 == 0)
        if made and made[:3] not in seen:
            seen.add(made[:3])
            pairs.append(made)
    return pairs


# Both verdicts ------------------------------------------------------------------------------------


def derivation(pairs):
    """One step for each pair; every symbol is a plain number, so that no unit gets in the way."""
    letters = [*LETTERS, "z"]
    step = {"title": "Equal?", "ask": "What is $z$?", "hints": ["None."], "meaning": "Equal."}
    task = {"target": "z", "form": "relation", "symbols": letters, "uses": list(LETTERS), "gives": False}
    return {
        "format": "whorl-derivation",
        "version": 1,
        "id": "pairs",
        "title": "Pairs",
        "about": "Made at random.",
        "symbols": [{"symbol": letter, "means": letter, "unit": "1", "value": 1} for letter in letters],
        "steps": [
            {"id": f"s{index}", **step, "expression": {**task, "answer": first}}
            for index, (first, *_) in enumerate(pairs)
        ],
    }


def judged(pairs):
    """What the program says to each pair."""
    program = os.environ.get("WHORL_CLI")
    if not program:
        sys.exit("set WHORL_CLI to the path of the built whorl program")
    with tempfile.TemporaryDirectory() as folder:
        asked, answers = Path(folder, "derivation.json"), Path(folder, "answers.json")
        asked.write_text(json.dumps(derivation(pairs)), encoding="utf-8")
        typed = [{"step": f"s{index}", "answer": answer} for index, (_, _, answer, _) in enumerate(pairs)]
        answers.write_text(json.dumps(typed), encoding="utf-8")
        words = [program, "judge", "--derivation", str(asked), "--answers", str(answers)]
        done = subprocess.run(words, capture_output=True, text=True, encoding="utf-8")
    if done.returncode != 0:
        sys.exit(done.stderr.strip())
    return json.loads(done.stdout)


def is_equal(first, second):
    numerator, _ = sympy.fraction(sympy.together(in_sympy(first) - in_sympy(second)))
    return sympy.expand(numerator) == 0


def is_equal_by_simplify(first, second):
    return sympy.simplify(in_sympy(first) - in_sympy(second)) == 0


def disagreements(pairs, equal, accepted):
    return [
        f"{first}  and  {second}, typed as {answer} ({how}): sympy {ours}, the program {theirs}"
        for (first, second, answer, how), ours, theirs in zip(pairs, equal, accepted, strict=True)
        if ours != theirs
    ]


def main():
    made = make_pairs()
    reports = judged(made)
    # What is too large is refused as such, which is no verdict; any other complaint about reading is a fault.
    both = list(zip(made, reports, strict=True))
    unread = [f"{one[2]}: {report['text']}" for one, report in both if report["kind"] == "reading"]
    faults = [text for text in unread if TOO_LARGE not in text]
    decided = [(one, report["accepted"]) for one, report in both if report["kind"] != "reading"]
    pairs, accepted = [one for one, _ in decided], [verdict for _, verdict in decided]

    equal = [is_equal(first, second) for first, second, *_ in pairs]
    wrong = disagreements(pairs, equal, accepted)
    asked = range(0, len(pairs), SIMPLIFIED)
    odd = [pairs[index] for index in asked if is_equal_by_simplify(*pairs[index][:2]) != equal[index]]
    # A comparison that notices nothing would agree with anything: every verdict swapped has to be noticed.
    swapped = disagreements(pairs, equal, [not verdict for verdict in accepted])
    unnoticed = len(pairs) - len(wrong) - len(swapped)

    faults += [*wrong, *(f"simplify is of another mind: {one}" for one in odd)]
    if unnoticed:
        faults.append(f"{unnoticed} swapped verdicts were not noticed")
    n_equal, n_unequal = sum(equal), len(equal) - sum(equal)
    if min(n_equal, n_unequal) < LEAST:
        faults.append(f"expected {LEAST} pairs of each kind")
    for text in faults:
        print(f"FAIL {text}")
    ways = Counter(how for *_, how in pairs)
    print(f"made: {', '.join(f'{count} {how}' for how, count in ways.most_common())}")
    print(f"too large for the program, which says so: {sum(TOO_LARGE in text for text in unread)}")
    print(f"sympy {sympy.__version__}: simplify asked for {len(asked)} pairs, {len(odd)} disagreements")
    print(f"{len(swapped)} of {len(pairs) - len(wrong)} swapped verdicts noticed")
    print(f"{len(pairs)} pairs, {n_equal} equal, {n_unequal} unequal, {len(wrong)} disagreements")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
