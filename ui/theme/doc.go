// Package theme holds the window's colours, type sizes and spacing, light and dark: one place to change how everything
// looks.
//
// Colours of marks start from the published Okabe-Ito set, darkened or lightened until text in them stands at least
// 4.5 : 1 against its ground (the package's tests measure it, as WCAG 2.1 section 1.4.3 defines it). Nothing is told by
// colour alone: each use of a mark colour comes with a number, a word or a shape.
package theme
