package main

import (
	"strings"
	"testing"
)

// TestHardlyPossible: a figure that reads like another one lets no air be set.
func TestHardlyPossible(t *testing.T) {
	table := "pressure -table ../demo/xv250.yaml -size XV250/72R21 -load-range G -fit dual -per end -load "
	stamp := "pressure -class truck -fit dual -per end -load 8200lb -stamp "
	cool, hot := "cold -read 102psi ", "cold -read 118psi -speed 50mph "
	for _, x := range []struct{ args, text, want string }{
		{table, "8200lb", ""},
		{table, "8,200lb", ""},
		{table, "8.200lb", "was 8200 lb meant?"},
		{table, "3.720kg", "was 3720 kg meant?"},
		{table, "820.5lb", "820.5 lb can hardly be"},
		{table, "82lb", "was 82000 lb meant?"},
		{table, "0lb", "0 lb can hardly be"},
		{table, "100lb", ""},
		{table, "99lb", "99 lb can hardly be"},
		{table, "999kg", ""},
		{stamp, "4540 lb at 110 psi", ""},
		{stamp, "4.540 lb at 110 psi", "was 4540 lb meant?"},
		{stamp, "45400 lb at 110 psi", "want 20000 lb at most"},
		{stamp, "20000 lb at 150 psi", ""},
		{stamp, "4540 lb at 110 kPa", "110 kPa can hardly be"},
		{stamp, "4540 lb at 151 psi", "want 30 psi to 150 psi"},
		{cool, "-at 95F -to 60F", ""},
		{cool, "-at 95C -to 60F", "203 F can hardly be"},
		{cool, "-at 95F -to 20F,-61F", "-61 F can hardly be"},
		{cool, "-at 95F -to 60F -minimum 9.5psi", "want 20 psi or more"},
		{hot, "-max-load 4940lb", ""},
		{hot, "-max-load 4.940lb", "was 4940 lb meant?"},
		{hot, "-max-load 4940lb -minimum 9.5psi", "want 20 psi or more"},
	} {
		args := strings.Fields(x.args)
		if strings.HasPrefix(x.args, "cold") {
			args = append(args, strings.Fields(x.text)...)
		} else {
			args = append(args, x.text)
		}
		code, out, errw := axleend(t, "", args...)
		if x.want == "" && (code == exitMisuse || errw != "") || x.want != "" && (code != exitMisuse || out != "" || !strings.Contains(errw, x.want)) {
			t.Errorf("%s%s: exit status %d\n%s%s", x.args, x.text, code, out, errw)
		}
	}
}
