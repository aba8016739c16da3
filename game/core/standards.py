"""Published standards that a step may name as the one it serves, each told in our own short words.

Ids: Common Core State Standards for Mathematics (2010), kindergarten; for England "EYFS Number" (early learning goals,
2021) and the Year 1 programmes of study for mathematics and for handwriting (2013).
"""

from __future__ import annotations

STANDARDS: dict[str, str] = {
    "K.CC.A.2": "count on from a number",
    "K.CC.A.3": "write numbers from 0",
    "K.CC.B.4a": "one number word for each thing",
    "K.CC.B.4b": "the last word said tells how many, whatever the order",
    "K.CC.B.4c": "the next number is one larger",
    "K.CC.B.5": "tell how many, and count out a number of things",
    "K.CC.C.6": "which set has more, fewer, the same",
    "K.CC.C.7": "compare two numerals",
    "K.OA.A.3": "take a number apart in more than one way",
    "K.OA.A.4": "find what makes ten",
    "K.OA.A.5": "add and take away within five with ease",
    "EYFS Number": "know numbers to ten deeply and see small sets without counting",
    "Y1 number": "one more, one fewer, numerals and number words",
    "Y1 handwriting": "form the digits and letters, with either hand",
}
