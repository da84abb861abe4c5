package dxf

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// codePage is the encoding of a $DWGCODEPAGE value such as ANSI_1252 or DOS850; nil for an unknown
// one.
func codePage(name string) encoding.Encoding {
	digits := strings.TrimLeft(strings.ToUpper(name), "ANSIDOCP_-")
	switch digits {
	case "437":
		return charmap.CodePage437
	case "850":
		return charmap.CodePage850
	case "852":
		return charmap.CodePage852
	case "855":
		return charmap.CodePage855
	case "860":
		return charmap.CodePage860
	case "863":
		return charmap.CodePage863
	case "865":
		return charmap.CodePage865
	case "866":
		return charmap.CodePage866
	case "874":
		return charmap.Windows874
	case "932":
		return japanese.ShiftJIS
	case "936":
		return simplifiedchinese.GBK
	case "949":
		return korean.EUCKR
	case "950":
		return traditionalchinese.Big5
	}
	return windowsPage(digits)
}

// windowsPage is one of the code pages 1250 to 1258.
func windowsPage(digits string) encoding.Encoding {
	pages := [...]encoding.Encoding{
		charmap.Windows1250, charmap.Windows1251, charmap.Windows1252, charmap.Windows1253, charmap.Windows1254,
		charmap.Windows1255, charmap.Windows1256, charmap.Windows1257, charmap.Windows1258,
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1250 || n > 1258 {
		return nil
	}
	return pages[n-1250]
}

// decodeText is a string of the file as UTF-8. Files from R2007 on are UTF-8; before, names are in
// the code page; where neither is stated, valid UTF-8 is taken as such and the rest as Windows 1252.
func decodeText(raw []byte, version, page string, bom bool) string {
	var s string
	switch {
	case isASCII(raw):
		s = string(raw)
	case bom || version >= "AC1021" || version == "" && page == "" && utf8.Valid(raw):
		s = strings.ToValidUTF8(string(raw), "\uFFFD")
	default:
		enc := codePage(page)
		if enc == nil {
			enc = charmap.Windows1252
		}
		out, err := enc.NewDecoder().Bytes(raw)
		if err != nil {
			out = bytes.ToValidUTF8(raw, []byte("\uFFFD"))
		}
		s = string(out)
	}
	if strings.Contains(s, `\U+`) {
		s = unescape(s)
	}
	return s
}

func isASCII(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// unescape replaces \U+XXXX by the character of that number.
func unescape(s string) string {
	var b strings.Builder
	for {
		i := strings.Index(s, `\U+`)
		if i < 0 || len(s) < i+7 {
			b.WriteString(s)
			return b.String()
		}
		n, err := strconv.ParseUint(s[i+3:i+7], 16, 16)
		b.WriteString(s[:i])
		if err != nil {
			b.WriteString(s[i : i+3])
			s = s[i+3:]
			continue
		}
		b.WriteRune(rune(n))
		s = s[i+7:]
	}
}
