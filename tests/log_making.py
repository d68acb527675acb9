"""What the tests of the logbook share: times, entries, and what a folder holds."""

from datetime import UTC, datetime, timedelta, timezone

from hypothesis import strategies as st

from hullcheck.craft.log_records import (
    LeakTest,
    LeakTestSetup,
    Note,
    Photo,
    Reopening,
    Sealing,
    WeighIn,
)
from hullcheck.files.logbook import append

NOON = datetime(2026, 5, 12, 12, 0, tzinfo=timezone(timedelta(hours=2)))
SETUP = LeakTestSetup(mass_g=702.0, before_g=702.0, plus_minus_g=0.1)
TEST = LeakTest(setup=SETUP, minutes=30.0, after_g=704.6, found=("step joint",))


def add(folder, record, *, at=NOON, **more):
    """Append a record to the logbook in a folder."""
    return append(folder, record, at=at, written=at, **more)


def held(folder):
    """Return the bytes of every file in a folder, by name."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def nasty_texts():
    """Return a strategy of texts that spreadsheets, CSV and terminals trip over."""
    pieces = st.sampled_from(
        [
            "=1+1",
            "+",
            "-2",
            "@x",
            "'",
            "''",
            '"',
            ",",
            ";",
            "\r\n",
            "\n",
            "\r",
            "\t",
            "\0",
            "\x1b[2J",
        ]
    )
    texts = st.lists(pieces | st.text(st.characters(exclude_categories=["Cs"]), max_size=8))
    return texts.map("".join)


def named():
    """Return a strategy of nasty texts that say something."""
    return nasty_texts().filter(str.strip)


def masses():
    """Return a strategy of numbers above 0, the least and the greatest among them."""
    return st.floats(min_value=0.0, exclude_min=True, allow_infinity=False)


def moments():
    """Return a strategy of times with a zone, to the microsecond."""
    offsets = st.integers(-14 * 60, 14 * 60).map(lambda m: timezone(timedelta(minutes=m)))
    return st.datetimes(
        min_value=datetime(1970, 1, 3),  # noqa: DTZ001 - the zone is drawn
        max_value=datetime(2100, 1, 1),  # noqa: DTZ001 - the same
        timezones=offsets,
    ) | st.just(datetime(2026, 5, 12, tzinfo=UTC))


def photos():
    """Return a strategy of pictures, or none."""
    return st.none() | st.builds(Photo, path=nasty_texts(), sha256=nasty_texts())


def records():
    """Return a strategy of every kind of record that needs none before it."""
    some, size = st.none() | nasty_texts(), st.floats(min_value=0.0, allow_infinity=False)
    signed = st.none() | st.floats(allow_nan=False, allow_infinity=False)
    setups = st.builds(
        LeakTestSetup,
        mass_g=masses(),
        before_g=masses(),
        plus_minus_g=size,
        wet_baseline_g=size,
        water=st.sampled_from(["fresh", "sea"]),
        temperature_c=signed,
        trim_deg=signed,
        heel_deg=signed,
        running=st.booleans(),
        ballast=nasty_texts(),
        minutes_planned=st.none() | size,
    )
    return st.one_of(
        st.builds(WeighIn, mass_g=masses(), plus_minus_g=size, item=some),
        st.builds(Sealing, seam=named(), material=named(), batch=some, cure_h=st.none() | size),
        st.builds(Reopening, seam=named(), why=nasty_texts()),
        setups,
        st.builds(
            LeakTest,
            setup=setups,
            minutes=masses(),
            after_g=masses(),
            found=st.lists(named(), max_size=3).map(tuple),
            aft_of_step=st.none() | st.booleans(),
            stream=st.booleans(),
        ),
        st.builds(Note, text=named(), about=some),
    )
