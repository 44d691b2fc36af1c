package chart

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"io"

	"gonum.org/v1/plot/vg/vgimg"
)

// signed is a PNG that says what made it, in a tEXt chunk with the keyword
// Software (W3C, Portable Network Graphics, 11.3.3).
type signed struct{ vgimg.PngCanvas }

// headLength is that of the signature and of the first chunk, IHDR.
const headLength = 8 + 12 + 13

func (s signed) WriteTo(w io.Writer) (int64, error) {
	var b bytes.Buffer
	if _, err := s.PngCanvas.WriteTo(&b); err != nil {
		return 0, err
	}
	text := []byte("tEXtSoftware\x00primaprova")
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(text)-4))
	chunk = binary.BigEndian.AppendUint32(append(chunk, text...), crc32.ChecksumIEEE(text))
	n, err := w.Write(append(b.Bytes()[:headLength:headLength], append(chunk, b.Bytes()[headLength:]...)...))
	return int64(n), err
}
