package trace

import (
	"bytes"
	"encoding/binary"
)

// turning is the orientation of a picture in its file, as recorded by a camera:
// the values 1 to 8 of the tag Orientation (Exif 2.3, JEITA CP-3451C, 4.6.4 A;
// from memory). 1 is upright.
type turning uint8

// aside reports whether a row in the file is a column when upright.
func (t turning) aside() bool { return t >= 5 }

// place is the index of the byte for a pixel of the file, w by h, once upright.
func (t turning) place(x, y, w, h, stride int) int {
	switch t {
	case 2:
		x = w - 1 - x
	case 3:
		x, y = w-1-x, h-1-y
	case 4:
		y = h - 1 - y
	case 5:
		x, y = y, x
	case 6:
		x, y = h-1-y, x
	case 7:
		x, y = h-1-y, w-1-x
	case 8:
		x, y = y, w-1-x
	}
	return y*stride + 4*x
}

// tagOrientation and typeShort are from TIFF 6.0.
const (
	tagOrientation = 0x112
	typeShort      = 3
)

// orientation finds how a JPEG or PNG is oriented; 1 where it is not recorded.
func orientation(data []byte) turning {
	if bytes.HasPrefix(data, []byte(pngHead)) {
		return noted(pngChunk(data, "eXIf"))
	}
	for i := 2; i+4 <= len(data) && data[i] == 0xff; {
		kind, length := data[i+1], int(data[i+2])<<8|int(data[i+3])
		switch {
		case kind == 0xff: // a fill byte
			i++
			continue
		case kind == 0xda || length < 2: // the pixels begin, or it is damaged
			return 1
		case kind == 0xe1:
			part := data[i+4 : min(i+2+length, len(data))]
			if exif, ok := bytes.CutPrefix(part, []byte("Exif\x00\x00")); ok {
				return noted(exif)
			}
		}
		i += 2 + length
	}
	return 1
}

// noted reads the orientation from the first directory of a TIFF.
func noted(tiff []byte) turning {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return 1
	}
	entries := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(entries) < 12 {
			return 1
		}
		if order.Uint16(entries) == tagOrientation && order.Uint16(entries[2:]) == typeShort {
			if v := order.Uint16(entries[8:]); v >= 1 && v <= 8 {
				return turning(v)
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}
