package lang

import (
	"fmt"
	"reflect"
	"strings"

	"buzzout/lang/diag"
)

// dump writes a statement as its type and its words, without places, so that
// two readings of the same text can be compared.
func dump(s Statement) string {
	var b strings.Builder
	dumpValue(&b, reflect.ValueOf(s))
	return b.String()
}

func dumpFacts(f *File) []string {
	var list []string
	for _, s := range f.Statements {
		if _, bad := s.(*Bad); !bad {
			list = append(list, dump(s))
		}
	}
	return list
}

func dumpValue(b *strings.Builder, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			b.WriteString("-")
			return
		}
		dumpValue(b, v.Elem())
	case reflect.Slice:
		b.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				b.WriteByte(' ')
			}
			dumpValue(b, v.Index(i))
		}
		b.WriteByte(']')
	case reflect.Struct:
		switch x := v.Interface().(type) {
		case Word:
			b.WriteString(x.Text)
			return
		case Text:
			fmt.Fprintf(b, "%q", x.Text)
			return
		}
		b.WriteString(v.Type().Name() + "(")
		if s, ok := v.Addr().Interface().(interface{ Verb() string }); ok {
			b.WriteString(s.Verb())
		}
		for i := range v.NumField() {
			if f := v.Type().Field(i); !f.Anonymous || f.Type == reflect.TypeFor[Word]() {
				b.WriteByte(' ')
				dumpValue(b, v.Field(i))
			}
		}
		b.WriteByte(')')
	default:
		fmt.Fprint(b, v.Interface())
	}
}

func parseText(text string) *File { return Parse(diag.NewSource("test", text)) }
