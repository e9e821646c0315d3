# Audits a DXF file and prints what it holds, as JSON, for dxf_test.go.
import json
import sys

import ezdxf
from ezdxf import bbox
from ezdxf.lldxf.encoding import decode_dxf_unicode

doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
space = doc.modelspace()
lines = [e for e in space if e.dxftype() == "LWPOLYLINE"]
extent = bbox.extents(lines)
print(json.dumps({
    "faults": [str(e.message) for e in audit.errors],
    "fixes": [str(e.message) for e in audit.fixes],
    "units": doc.units,
    "layers": sorted(layer.dxf.name for layer in doc.layers),
    "version": doc.dxfversion,
    "lines": [{"layer": e.dxf.layer, "closed": bool(e.closed), "points": [[p[0], p[1]] for p in e.get_points()]} for e in lines],
    "texts": [{"layer": e.dxf.layer, "text": decode_dxf_unicode(e.plain_text()), "height": e.dxf.height, "align": e.get_align(), "at": list(e.get_pos()[1])[:2]}
              for e in space if e.dxftype() == "TEXT"],
    "extent": [list(extent.extmin)[:2], list(extent.extmax)[:2]],
}))
