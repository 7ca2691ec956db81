// Package cost says what settled batches cost, and at which price a bar of them
// is to be sold.
//
// It takes a price book, and recipes with their formulations and terms, and
// answers with lines, totals and a price. The answer depends on these and on
// nothing else: no file, clock or exchange rate. It converts no currency.
//
// Money is decimal. It comes in and goes out as text with a point ("12.50"),
// and is never a binary fraction in between. Each line is rounded half up to
// the smallest unit of the currency; totals are sums of the rounded lines, so
// that what is printed adds up. A bar's cost and a price that is worked out are
// rounded up, so that neither loses money. Grams come from the formulation as
// they are weighed.
//
// A material is priced by its name, see Pack. Of several packs the one that is
// cheapest per gram counts; the earlier where two are even. A premix is priced
// as a pack of its name, else by its fats. A lye that the shop mixed itself is
// priced as a pack "naoh-solution" ("koh-solution"), else by the solid, the
// water and whatever else it was made of; a bought one needs that pack, because
// what a gram of it costs does not follow from the price of the solid. Water
// without a price costs nothing, and the line says so. Anything else without a
// price is refused, all of it at once, unless a partial cost was asked for.
//
// It leaves to others: the batches themselves (package engine), what a batch
// yields in bars that can be sold, stocks and lots, and any advice on prices.
//
// The arithmetic is the ordinary one of trade, written here from its
// definitions: margin is a share of the price, markup a share of the cost.
package cost
