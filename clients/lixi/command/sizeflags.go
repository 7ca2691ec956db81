package command

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"lixivium.example/clients/lixi/recipefile"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// sizeFlags are the sizes that can stand behind flags.
type sizeFlags struct {
	molds, stock                          []string
	batter, fats, bars, potLoss, transfer string
	cured                                 bool
}

func (s *sizeFlags) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringArrayVar(&s.molds, "mold", nil, "a mold to fill, such as box:240x85x70; may be repeated")
	f.StringVar(&s.batter, "batter", "", "batter to pour, such as 1200g")
	f.StringVar(&s.fats, "fats", "", "recipe fats, such as 500g")
	f.StringVar(&s.bars, "bars", "", "bars to make, such as 10x110g")
	f.BoolVar(&s.cured, "cured", false, "the mass behind --bars is that after the cure")
	f.StringArrayVar(&s.stock, "stock", nil, "what is on hand of a line, such as olive-oil=900g; may be repeated")
	f.StringVar(&s.potLoss, "pot-loss", "", "batter that stays in the pot, such as 15g")
	f.StringVar(&s.transfer, "transfer-loss", "", "batter that stays on spatulas and cups, such as 5g")
}

// sizes reads flags into a size and gathers what is wrong with them.
type sizes struct {
	fit    *lixiviumv1.Fit
	places *recipefile.Places
	wrong  failure
}

func (z *sizes) problem(what, next string) { z.wrong.items = append(z.wrong.items, item{what, next}) }

// note says that a field came from a flag.
func (z *sizes) note(path, flag, text string) {
	z.places.Note(path, fmt.Sprintf("%s %q", flag, text))
}

// into lays the flags over the size of a file: a size takes the place of the
// file's, a loss that of its loss.
func (s *sizeFlags) into(request *lixiviumv1.ScaleRequest, places *recipefile.Places) error {
	z := &sizes{fit: request.GetFit(), places: places, wrong: failure{exit: ExitRefused}}
	var named []string
	for _, x := range []struct {
		flag string
		set  bool
	}{{"--mold", len(s.molds) > 0}, {"--batter", s.batter != ""}, {"--fats", s.fats != ""}, {"--bars", s.bars != ""}, {"--stock", len(s.stock) > 0}} {
		if x.set {
			named = append(named, x.flag)
		}
	}
	if len(named) > 1 {
		z.problem(strings.Join(named, " and ")+" exclude each other", "keep one size")
	}
	if s.cured && s.bars == "" {
		z.problem("--cured belongs to --bars", "write --bars 10x110g --cured, or cured: true in the file")
	}
	if z.fit == nil && (len(named) > 0 || s.potLoss != "" || s.transfer != "") {
		z.fit = &lixiviumv1.Fit{}
	}
	if s.potLoss != "" {
		z.fit.PotLoss = z.quantity("fit.pot_loss", "--pot-loss", s.potLoss)
	}
	if s.transfer != "" {
		z.fit.TransferLoss = z.quantity("fit.transfer_loss", "--transfer-loss", s.transfer)
	}
	switch {
	case len(s.molds) > 0:
		z.molds(s.molds)
	case s.batter != "":
		z.fit.Target = &lixiviumv1.Fit_Batter{Batter: z.quantity("fit.batter", "--batter", s.batter)}
	case s.fats != "":
		z.fit.Target = &lixiviumv1.Fit_Fats{Fats: z.quantity("fit.fats", "--fats", s.fats)}
	case s.bars != "":
		z.bars(s.bars, s.cured)
	case len(s.stock) > 0:
		z.stock(s.stock)
	}
	request.Fit = z.fit
	if len(z.wrong.items) > 0 {
		return &z.wrong
	}
	return nil
}

func (z *sizes) quantity(path, flag, text string) *lixiviumv1.Quantity {
	z.note(path, flag, text)
	return z.amount(flag, text, text)
}

// amount reads a mass or volume that is part of what stands behind a flag.
func (z *sizes) amount(flag, whole, text string) *lixiviumv1.Quantity {
	q, bad, next := recipefile.ParseQuantity(text)
	if bad != "" {
		z.problem(fmt.Sprintf("%s %q: %s", flag, whole, bad), next)
	}
	return q
}

var (
	moldText   = regexp.MustCompile(`^(box|cylinder|cavities|water):(.+)$`)
	lengthText = regexp.MustCompile(`^[0-9]{1,6}(?:\.[0-9]+)?$`)
	countText  = regexp.MustCompile(`^([0-9]{1,6})x(.+)$`)
)

const moldAdvice = "write box:240x85x70 or cylinder:75x200 in mm, cavities:6x110ml, or water:1200ml"

func (z *sizes) molds(texts []string) {
	molds := &lixiviumv1.Molds{}
	z.fit.Target = &lixiviumv1.Fit_Molds{Molds: molds}
	for i, text := range texts {
		z.note(fmt.Sprintf("fit.molds.molds[%d]", i), "--mold", text)
		m := &lixiviumv1.Mold{Name: text, Count: 1}
		parts := moldText.FindStringSubmatch(text)
		if parts == nil || !z.shape(m, text, parts[1], parts[2]) {
			z.problem(fmt.Sprintf("--mold %q is no mold", text), moldAdvice)
		}
		molds.Molds = append(molds.Molds, m)
	}
}

// shape reads the measures of a mold; false where they are none.
func (z *sizes) shape(m *lixiviumv1.Mold, whole, kind, text string) bool {
	switch kind {
	case "box":
		if v, ok := lengths(text, 3); ok {
			m.Shape = &lixiviumv1.Mold_Box{Box: &lixiviumv1.Box{LengthMm: v[0], WidthMm: v[1], HeightMm: v[2]}}
			return true
		}
	case "cylinder":
		if v, ok := lengths(text, 2); ok {
			m.Shape = &lixiviumv1.Mold_Cylinder{Cylinder: &lixiviumv1.Cylinder{DiameterMm: v[0], HeightMm: v[1]}}
			return true
		}
	case "water":
		m.Shape = &lixiviumv1.Mold_Water{Water: z.amount("--mold", whole, text)}
		return true
	case "cavities":
		each, ml := countText.FindStringSubmatch(text), strings.TrimSpace(strings.TrimSuffix(text, "ml"))
		if each == nil || ml == text {
			return false
		}
		_, ml, _ = strings.Cut(ml, "x")
		if v, ok := lengths(strings.TrimSpace(ml), 1); ok {
			n, _ := strconv.ParseUint(each[1], 10, 32) // six digits
			m.Shape = &lixiviumv1.Mold_Cavities{Cavities: &lixiviumv1.Cavities{Count: uint32(n), MlEach: v[0]}}
			return true
		}
	}
	return false
}

// lengths reads so many numbers with an x between them.
func lengths(text string, n int) ([]float64, bool) {
	parts := strings.Split(text, "x")
	if len(parts) != n {
		return nil, false
	}
	out := make([]float64, n)
	for i, p := range parts {
		if !lengthText.MatchString(p) {
			return nil, false
		}
		out[i], _ = strconv.ParseFloat(p, 64) // the pattern holds a plain decimal
	}
	return out, true
}

func (z *sizes) bars(text string, cured bool) {
	z.note("fit.bars", "--bars", text)
	parts := countText.FindStringSubmatch(strings.ReplaceAll(text, " ", ""))
	if parts == nil {
		z.problem(fmt.Sprintf("--bars %q names no count and mass", text), "write the count, x, and the mass of one, such as --bars 10x110g")
		return
	}
	n, _ := strconv.ParseUint(parts[1], 10, 32) // six digits
	z.fit.Target = &lixiviumv1.Fit_Bars{Bars: &lixiviumv1.Bars{Count: uint32(n), Mass: z.amount("--bars", text, parts[2]), Cured: cured}}
}

func (z *sizes) stock(texts []string) {
	stock := &lixiviumv1.Stock{}
	z.fit.Target = &lixiviumv1.Fit_Stock{Stock: stock}
	for i, text := range texts {
		z.note(fmt.Sprintf("fit.stock.on_hand[%d]", i), "--stock", text)
		id, mass, ok := strings.Cut(text, "=")
		if !ok || id == "" {
			z.problem(fmt.Sprintf("--stock %q names no line and mass", text), "write the id of a line and what is on hand, such as --stock olive-oil=900g")
			continue
		}
		stock.OnHand = append(stock.OnHand, &lixiviumv1.OnHand{LineId: id, Mass: z.amount("--stock", text, mass)})
	}
}
