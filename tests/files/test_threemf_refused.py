"""3MF packages made by hand that are refused: circles, bursts, entities, lies and left-outs."""

import importlib
import re
import sys
import zipfile
from pathlib import Path

import pytest

from hullcheck.errors import MeshFileError
from hullcheck.files import package as package_module
from hullcheck.files.threemf import read_threemf

sys.path.insert(0, str(Path(__file__).parent))
making = importlib.import_module("mesh_making")

threemf = importlib.import_module("threemf_reading")
HULL, read = threemf.HULL, threemf.read


def components(*ids):
    """Return a components element of plain references."""
    inside = "".join(f'<component objectid="{i}"/>' for i in ids)
    return f"<components>{inside}</components>"


def test_components_in_a_circle_are_refused():
    """An object that contains itself, at once or over another, is named."""
    objects = [f'<object id="{a}">{components(b)}</object>' for a, b in (("1", "2"), ("2", "1"))]
    with pytest.raises(MeshFileError, match=r"craft\.3mf: object '1' contains itself"):
        read(objects, ['<item objectid="1"/>'])


def test_components_that_multiply_are_refused_before_they_are_made():
    """Thirty doublings of eight triangles are 8.6e9, more than the limit."""
    objects = [f'<object id="0">{making.mesh_xml()}</object>']
    objects += [f'<object id="{i + 1}">{components(i, i)}</object>' for i in range(30)]
    with pytest.raises(MeshFileError, match="8589934592 triangles, over the limit of 25000000"):
        read(objects, ['<item objectid="30"/>'])


def test_too_many_copies_are_refused():
    """Seventeen doublings place a mesh of eight triangles 131,072 times."""
    objects = [f'<object id="0">{making.mesh_xml()}</object>']
    objects += [f'<object id="{i + 1}">{components(i, i)}</object>' for i in range(17)]
    with pytest.raises(MeshFileError, match="meshes are placed more than 100000 times"):
        read(objects, ['<item objectid="17"/>'])


@pytest.mark.parametrize("built", [["60"], [str(i) for i in range(61)]])
def test_deep_nesting_is_refused(built):
    """Sixty levels are refused, also where each level was reached on its own before."""
    objects = [f'<object id="0">{making.mesh_xml()}</object>']
    objects += [f'<object id="{i + 1}">{components(i)}</object>' for i in range(60)]
    with pytest.raises(MeshFileError, match="components within components, more than 32 deep"):
        read(objects, [f'<item objectid="{i}"/>' for i in built])


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('v1="0"', 'v1="6"', "object '1', triangle 1 names vertex 6, but there are 6 vertices"),
        ('v1="3"', 'v1="-1"', "object '1', triangle 2 names vertex -1, but there are 6"),
        ('v2="2"', 'v2="1.5"', "object '1', triangle 1 names vertex -1, but there are 6"),
        ('x="12.1"', 'x="nan"', "object '1', vertex 1 lies at (nan, -3.7, 0.3), not at finite"),
        ('x="12.1"', 'x="1e999"', "object '1', vertex 1 lies at (inf, -3.7, 0.3), not at finite"),
        ('x="12.1"', 'x="a"', "object '1', vertex 1 lies at (nan, -3.7, 0.3), not at finite"),
        (' x="12.1"', "", "'3d/3dmodel.model': a vertex of object '1' has no x"),
        ('v3="1"', "", "'3d/3dmodel.model': a triangle of object '1' has no v3"),
        ('objectid="1"', 'objectid="8"', "object '8' is not in '3d/3dmodel.model'"),
        ('objectid="1"', "", "object '' is not in '3d/3dmodel.model'"),
        ('objectid="1"', 'objectid="1" p:path="/3D/x.model"', "'3d/x.model' is wanted, and not in"),
        (
            'objectid="1"',
            'objectid="1" p:path="/../../some/where"',
            "'some/where' is wanted, and not",
        ),
        (
            'objectid="1"',
            'objectid="1" transform="1 0 0"',
            "the transform '1 0 0' of object '1' is",
        ),
        (
            'objectid="1"',
            'objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 nan"',
            "the transform '1 0 0 0 1 0 0 0 1 0 0 nan' of object '1' is not twelve finite numbers",
        ),
        (
            'objectid="1"',
            'objectid="1" transform="1 0 0 0 1 0 0 0 0 0 0 0"',
            "object '1': its transform has the determinant 0 and flattens it",
        ),
        (
            'objectid="1"',
            'objectid="1" transform="1e308 0 0 0 1 0 0 0 1 0 0 0"',
            "object '1': its transform takes it out of the range of numbers",
        ),
        ('unit="millimeter"', 'unit="furlong"', "the unit 'furlong' is none of micron, millimeter"),
        ("<item", "<thing", "none of the 0 build items has a mesh other than supports"),
        ('name="hull"', 'type="support"', "none of the 1 build items has a mesh other than"),
        ("<object id", "<object no", "'3d/3dmodel.model': object '' is there twice or has no id"),
        (
            "</build>",
            "</build></build>",
            "'3d/3dmodel.model' in the package is damaged or truncated",
        ),
        ("<resources>", "<resources><vertex/>", "a vertex stands outside of any object"),
        ("<resources>", "<resources><component/>", "a component stands outside of any object"),
        ("/core/2015/02", "/core/1999/01", "'3d/3dmodel.model' in the package is no 3MF model"),
        ('encoding="UTF-8"', 'encoding="none"', "in the package is damaged or truncated XML"),
    ],
)
def test_what_is_wrong_is_refused(old, new, message):
    """The refusal names the file, the object and the value."""
    model = making.model_xml([HULL], ['<item objectid="1"/>']).replace(old, new, 1)
    with pytest.raises(MeshFileError, match=re.escape(message)) as caught:
        read_threemf(making.package(model), "craft.3mf")
    assert str(caught.value).startswith("craft.3mf: ")


def test_a_separator_within_a_number_is_no_way_to_shift_the_others():
    """One attribute of two numbers and an empty one do not pass as two numbers."""
    last = 'x="312.1" y="-43.7" z="50.3"'
    assert last in HULL
    twisted = HULL.replace(last, 'x="312.1;7" y="50.3" z=""')
    with pytest.raises(MeshFileError, match=r"object '1', vertex 6 lies at \(nan, 50\.3, nan\)"):
        read([twisted], ['<item objectid="1"/>'])


def test_an_object_that_no_item_builds_is_not_looked_at():
    """A broken object does no harm where nothing refers to it."""
    broken = HULL.replace('id="1"', 'id="2"').replace('v1="0"', 'v1="77"')
    assert len(read([HULL, broken], ['<item objectid="1"/>']).parts) == 1


def test_extensions_that_change_shapes_are_refused_by_name():
    """A required namespace that is not known is named; those for looks and parts pass."""
    extra = 'xmlns:b="http://example.org/beams" requiredextensions="p b"'
    with pytest.raises(MeshFileError, match=r"needs the 3MF extension 'http://example\.org/beams'"):
        read([HULL], ['<item objectid="1"/>'], extra=extra)
    looks = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
    extra = f'xmlns:m="{looks}" requiredextensions="p m"'
    assert len(read([HULL], ['<item objectid="1"/>'], extra=extra).parts) == 1


def test_only_the_root_model_may_refer_on():
    """Production Extension 3.1.2: a path in another model file makes the package wrong."""
    onward = '<component objectid="1" p:path="/3D/3dmodel.model"/>'
    child = making.model_xml([f'<object id="5"><components>{onward}</components></object>'], [])
    with pytest.raises(MeshFileError, match=re.escape("'3d/o.model' refers on to '/3D/3dmodel")):
        read([HULL], ['<item objectid="5" p:path="/3D/o.model"/>'], {"3D/o.model": child})


def test_two_units_in_one_package_are_refused():
    """No rule says which unit would hold."""
    child = making.model_xml([HULL], [], unit="inch")
    with pytest.raises(MeshFileError, match=r"'3d/o\.model' is in 'inch', the build in 'mill"):
        read([], ['<item objectid="1" p:path="/3D/o.model"/>'], {"3D/o.model": child})


ENTITY = '<!DOCTYPE model [<!ENTITY a "aaaaaaaaaa">{}]>'


@pytest.mark.parametrize(
    "declared",
    [
        ENTITY.format("".join(f'<!ENTITY a{i} "{"&a;" * 10}">' for i in range(9))),
        '<!DOCTYPE model [<!ENTITY a SYSTEM "file:///somewhere/else">]>',
        '<!DOCTYPE model SYSTEM "http://127.0.0.1:9/model.dtd">',
        '<!DOCTYPE model [<!ENTITY % a SYSTEM "http://127.0.0.1:9/a"> %a;]>',
    ],
)
@pytest.mark.parametrize("where", ["model", "relationships"])
def test_document_types_and_entities_are_refused(declared, where, opened_files):
    """Neither an entity bomb nor an outside entity is ever expanded or opened."""
    model = making.model_xml([HULL.replace('name="hull"', 'name="&a;"')], ['<item objectid="1"/>'])
    relationships = making.RELATIONSHIPS
    if where == "model":
        model = model.replace("?>\n", f"?>\n{declared}\n", 1)
    else:
        relationships = relationships.replace("?>\n", f"?>\n{declared}\n", 1)
    data = making.package(model, relationships=relationships)
    with opened_files() as opened, pytest.raises(MeshFileError, match="holds a document type or"):
        read_threemf(data, "craft.3mf")
    assert opened == []


def test_an_undeclared_entity_is_refused():
    """A reference to what was never declared is damaged XML."""
    model = making.model_xml([HULL.replace('name="hull"', 'name="&a;"')], ['<item objectid="1"/>'])
    with pytest.raises(MeshFileError, match=r"'3d/3dmodel\.model' in the package is damaged"):
        read_threemf(making.package(model), "craft.3mf")


def test_a_package_that_bursts_is_stopped(peak_bytes):
    """A hundred megabytes of blanks in a tenth of a megabyte: stopped while they come out."""
    model = making.model_xml([HULL], ['<item objectid="1"/>']) + " " * (120 << 20)
    data = making.package(model)
    del model
    assert len(data) < 200_000

    def attempt():
        with pytest.raises(MeshFileError, match=r"craft\.3mf: unpacks to more than [0-9]+ bytes"):
            read_threemf(data, "craft.3mf")

    # Pieces of 64 kB, what expat holds of them, and the package itself.
    assert peak_bytes(attempt) < 8 << 20


def test_a_size_that_the_archive_lies_about_does_not_help():
    """The limit counts what comes out, whatever the header promised."""
    data = bytearray(making.package(making.model_xml([HULL], []) + " " * (100 << 20)))
    at = data.rindex(b"PK\x01\x02", 0, data.rindex(b"3D/3dmodel.model"))
    data[at + 24 : at + 28] = (1000).to_bytes(4, "little")
    with pytest.raises(MeshFileError, match=r"unpacks to more than|in the package is damaged"):
        read_threemf(bytes(data), "craft.3mf")


def test_too_many_entries_are_refused(monkeypatch):
    """The entries are counted before any of them is looked at."""
    monkeypatch.setattr(package_module, "MAX_ENTRIES", 50)
    data = making.package("", {f"{i}.txt": "" for i in range(60)})
    with pytest.raises(MeshFileError, match="62 entries in the package, the limit is 50"):
        read_threemf(data, "craft.3mf")


def test_other_ways_to_pack_are_refused():
    """3MF asks for deflate; another method is named by its number."""
    model = making.model_xml([HULL], ['<item objectid="1"/>'])
    data = making.package(model, compression=zipfile.ZIP_BZIP2)
    with pytest.raises(
        MeshFileError, match=r"'_rels/.rels' is packed by method 12, not by deflate"
    ):
        read_threemf(data, "craft.3mf")


def test_an_encrypted_package_is_refused():
    """The flag of encryption is named for what it is."""
    data = bytearray(making.one_object_package())
    for signature, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(signature) + offset] |= 1
    with pytest.raises(MeshFileError, match=r"'_rels/.rels' is encrypted; export it without a"):
        read_threemf(bytes(data), "craft.3mf")


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    ("data", "message"),
    [
        (making.one_object_package()[:-30], "the package is damaged or truncated"),
        (making.package("<a/>", relationships=None), "a package without relationships"),
        (making.package("<a/>", relationships="<a/>"), "names no 3D model in its relationships"),
        (
            making.package(
                "<a/>",
                relationships=making.RELATIONSHIPS.replace(
                    "Target=", 'TargetMode="External" Target='
                ),
            ),
            "names no 3D model in its relationships",
        ),
        (making.package("<a/>", {"3d/3DMODEL.model": "<a/>"}), "two files of one name"),
        (making.package("<a/>"), "'3d/3dmodel.model' in the package is no 3MF model"),
    ],
)
def test_a_package_that_is_not_whole_is_refused(data, message):
    """The refusal says what the package lacks."""
    with pytest.raises(MeshFileError, match=message):
        read_threemf(data, "craft.3mf")
