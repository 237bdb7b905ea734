// Package fitting is the geometry of a small hat on a head, and the hat it
// proposes.
//
// The head, hair included, is an ellipsoid. Its origin lies in the middle of
// the plane of the tape round the head: x runs forward, y to the wearer's
// left, z up. Lengths are millimetres, angles degrees, masses grams.
//
// Everything comes in by argument and goes out by value: the package reads no
// file, clock or environment, keeps no state, and gives the same answer for the
// same input on every machine. [Solve] works out a hat whose figures are all
// given, [Fit] also advises the figures that are missing. Both return a
// [Refusal] for a head or a hat that cannot be.
package fitting
