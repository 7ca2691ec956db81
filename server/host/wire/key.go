package wire

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"slices"
	"sync"

	"lixivium.example/engine"
)

// Key stands for a question: a SHA-256 over its fields, so that two questions
// never share an answer. The fields are hashed as they are; a serialized
// protobuf would cost more and is not canonical.
type Key [sha256.Size]byte

// buffers hold the fields while they are gathered for one call of the hash.
var buffers = sync.Pool{New: func() any { b := make(fields, 0, 2048); return &b }}

// QuestionKey is the key of Question for the same arguments.
func QuestionKey(q *engine.AdjustQuestion, doses []int, watched []string) Key {
	p := buffers.Get().(*fields)
	b := append((*p)[:0], 'A')
	b = b.conditions(&q.Conditions)
	b = b.count(len(doses))
	for _, i := range doses {
		b = b.dose(&q.Doses[i])
	}
	for _, fat := range watched {
		if pct, ok := q.FatPct[fat]; ok {
			b = b.text(fat).number(pct)
		}
	}
	k := Key(sha256.Sum256(b))
	*p = b
	buffers.Put(p)
	return k
}

// BatchKey is the key of Batch for the same argument.
func BatchKey(b *engine.ReviewBatch) Key {
	p := buffers.Get().(*fields)
	f := b.Formulation
	w := append((*p)[:0], 'R')
	for _, v := range [...]float64{
		float64(f.Totals.FatsG), float64(f.Alkali.NaOHPureG), float64(f.Alkali.KOHPureG), float64(f.Superfat.Pct),
		float64(f.Water.TotalG), float64(f.Water.FreeG), float64(f.Water.JugPurePct),
		f.Behavior.TraceTimeFactor, f.Behavior.AdditiveHeatJ,
	} {
		w = w.number(v)
	}
	w = w.conditions(&b.Conditions)
	w = w.count(len(f.Fats))
	for i := range f.Fats {
		w = w.text(f.Fats[i].FatID).number(float64(f.Fats[i].MassG))
	}
	w = w.count(len(f.Profile.Acids))
	for i := range f.Profile.Acids {
		w = w.text(f.Profile.Acids[i].Acid).number(float64(f.Profile.Acids[i].SharePct))
	}
	w = w.count(len(b.Doses))
	for i := range b.Doses {
		w = w.dose(&b.Doses[i])
	}
	w = w.count(len(f.Portions))
	for i := range f.Portions {
		q := &f.Portions[i]
		w = w.text(q.PortionID).number(float64(q.BatterG)).number(float64(q.FreeWaterG)).number(float64(q.BatchStrengthPct))
	}
	k := Key(sha256.Sum256(w))
	*p = w
	buffers.Put(p)
	return k
}

// fields are the fields of a question in a fixed order, lengths before texts.
type fields []byte

func (b fields) count(n int) fields { return binary.LittleEndian.AppendUint32(b, uint32(n)) }
func (b fields) number(v float64) fields {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}
func (b fields) text(s string) fields { return append(b.count(len(s)), s...) }

func (b fields) optional(o engine.Optional) fields {
	v, ok := o.Get()
	if !ok {
		return append(b, 0)
	}
	return append(b, 1).number(v)
}

func (b fields) conditions(c *engine.Conditions) fields {
	return append(b.optional(c.FatsC).optional(c.LyeC).optional(c.RoomC).number(c.KOHOfMolesPct), byte(c.Gel))
}

func (b fields) dose(d *engine.DoseView) fields {
	b = b.text(d.ID).text(d.Additive).text(d.PortionID).text(d.CarrierKind)
	b = b.number(d.OfFatsPct).number(d.OfPortionFatsPct).number(d.CarrierGPerG)
	b = append(b, byte(d.Stage))
	b = b.count(len(d.Parameters))
	var few [maxParameters]string
	names := few[:0]
	for name := range d.Parameters {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		b = b.text(name).number(d.Parameters[name])
	}
	return b
}
