package packs

import "embed"

// A page in a browser judges and runs no cases: with them it would load 38 kB more.
//
//go:embed at-kdv-light.yaml at-kdv.yaml coach-care.yaml de-stvzo.yaml dual-matching.yaml label.yaml nz-virm-heavy.yaml qc-wheels-light.yaml qc-wheels.yaml servicing-safety.yaml towing.yaml uk-c-and-u.yaml uk-tyre-age.yaml us-commercial.yaml us-in-use-light.yaml us-in-use.yaml
var files embed.FS
