"""Asks the untouched.py of the shared folder about pairs of files: TOOLS SOURCE EDITION [SOURCE EDITION …].

That tool knows digits and hand signs. Signs of rolled chords that an edition adds are taken out for it first: <arpeggiate>
at notes of which the source has none, and the words "[arp.]" and "(arp.)". All else is the tool's to judge.
"""
import re
import sys

sys.path.insert(0, sys.argv[1])
import untouched

untouched.SIGN = re.compile(untouched.SIGN.pattern + r'|\[arp\.\]|\(arp\.\)', re.I)
NOTE = re.compile(r'<note\b.*?</note\s*>', re.S)
ROLL = re.compile(r'<arpeggiate\b[^>]*/>')
text_of, sources = untouched.text, []


def text(data):  # of a source, then of its edition
    read = text_of(data)
    if not sources:
        sources.append(read)
        return read
    notes = iter(NOTE.findall(sources.pop()))

    def bare(m):
        return m.group(0) if '<arpeggiate' in next(notes, '') else ROLL.sub('<fingering/>', m.group(0))

    return NOTE.sub(bare, read)


untouched.text = text
status = 0
for a, b in zip(sys.argv[2::2], sys.argv[3::2]):
    print(b, end=': ', flush=True)
    sources.clear()
    status = max(status, untouched.main(a, b))
sys.exit(status)
