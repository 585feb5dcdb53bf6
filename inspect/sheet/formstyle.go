package sheet

// formStyle is what the form to fill in has beside the sheet's style: boxes to write
// in, in type of 9 points.
const formStyle literal = `.form{font-size:9pt;line-height:1.1}
.form h1{font-size:12pt;line-height:1.1}.form h2{font-size:10pt;line-height:1.1;margin:.7mm 0 .2mm;padding-top:.3mm;display:flex;justify-content:space-between;align-items:baseline;column-gap:4mm}
.form h2 small{font-size:9pt;font-weight:normal;white-space:nowrap}
.form .row{display:flex;flex-wrap:wrap;column-gap:3mm}
.form .f{display:flex;flex:1 1 auto;align-items:flex-end;column-gap:1.2mm;min-height:5.4mm;white-space:nowrap}
.form .f .v{flex:1 1 15mm;min-width:13mm;align-self:stretch;border-bottom:.25mm solid #15191d;display:flex;align-items:flex-end;font-weight:bold;white-space:normal}
.form .f .wide{flex-basis:26mm}
.form .many{flex-wrap:wrap;gap:1mm .2mm}.form .many .k{margin-right:1mm}.form .t{display:inline-flex;align-items:flex-end;column-gap:1mm;margin-right:1.4mm;white-space:nowrap}
.form .b{display:inline-block;width:3.3mm;height:3.3mm;line-height:3.1mm;border:.3mm solid #15191d;text-align:center;font-weight:bold;flex:none}
.form .u{color:#454b52}
.form .warn{font-weight:bold}
.form table{table-layout:fixed;margin-top:.3mm}
.form th,.form td{border:.25mm solid #15191d;padding:.2mm .6mm;vertical-align:top}
.form thead th{vertical-align:bottom;font-weight:normal}
.form .walk .c0{width:26.5mm}.form .two .c0{width:15mm}.form .two .low .u{display:none}
.form .way td{border:0;padding:0 .8mm;font-weight:bold}.form .way .up{text-align:right}
.form .no{font-size:12pt;line-height:1;font-weight:bold;margin-right:.8mm}
.form .big td{height:10.2mm}.form .mid td{height:7.2mm}.form .low td{height:5.6mm}
.form td .t{display:flex;margin:0;column-gap:.7mm}
.form .three{display:grid;grid-template-columns:1fr 1fr 1fr;margin:-.2mm -.6mm}
.form .three span{border-right:.25mm solid #6a7178;padding:.2mm .5mm;color:#454b52;height:7.1mm}.form .three span:last-child{border:0}
.form .known{font-weight:bold}
.form .numbers{display:flex;flex-wrap:wrap;column-gap:2.4mm;margin-top:.4mm}.form .numbers b{margin-right:.6mm}.form .numbers li:first-child{font-weight:bold}
.form .beside{display:grid;grid-template-columns:121mm 1fr;column-gap:3mm;align-items:start}
.form .first{flex:none}.form .axles{table-layout:auto}.form .axles th{white-space:nowrap}.form .axles td{min-width:14mm}
.form .two{column-gap:4mm}.form .flat span{white-space:nowrap;margin-right:1.4mm}
.form .so{display:flex;flex-wrap:wrap;margin:.5mm 0 .3mm}.form .walk tbody th span:nth-of-type(n+2){font-weight:normal}
.form .strip{border-top:.5mm dashed #15191d;margin-top:1.4mm}.form .strip h2{border:0;margin-top:0}
.form section,.form table{break-inside:avoid}
.long .big td{height:13mm}.long .mid td{height:8.5mm}.long .three span{height:8.4mm}
@media screen and (max-width:700px){.form table{min-width:180mm}.form .beside{grid-template-columns:1fr}.form .f,.form h2{flex-wrap:wrap;white-space:normal}.form .scroll{margin:1mm 0}.form h2 small{white-space:normal}}
@media print{.form{font-size:9pt}}
@page{margin:6mm}
`
