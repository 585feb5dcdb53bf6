//go:build !js

package packs

import "embed"

//go:embed *.yaml *.json
var files embed.FS
