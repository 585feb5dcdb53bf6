package sheet

// style is the sheet's style sheet. Sizes of type and of the drawing stand in
// the densities of fit.go too. The only colors are ink, paper and grays that
// keep 4.5 to 1 against it: what a mark means, its word and pattern say. Faces
// are brought to one width of digits (font-size-adjust), for which fit.go counts.
const style literal = `*{box-sizing:border-box}
html{color-scheme:only light;-webkit-text-size-adjust:100%;background:#ece9e2;color:#15191d}
body{margin:0;font-family:"Liberation Sans",Arial,Helvetica,"Nimbus Sans",Roboto,sans-serif;font-size:10pt;line-height:1.23;overflow-wrap:anywhere;font-size-adjust:ch-width .556}
.sheet{background:#fff;max-width:208mm;margin:5mm auto;padding:9mm}
.sheet>*,.two>*{min-width:0}
h1,h2,h3,p,ul,ol,dl,dd,figure{margin:0;padding:0}
ul,ol{list-style:none}
.sheet{font-size:10pt}
.top{display:flex;flex-wrap:wrap;justify-content:space-between;align-items:baseline;column-gap:5mm}
h1{font-size:16pt;line-height:1.18}h1.long{font-size:11pt}
h2{font-size:1.15em;line-height:1.23;border-top:.4mm solid #15191d;padding-top:.5mm;margin:1.6mm 0 .6mm}
.facts{display:flex;flex-wrap:wrap;column-gap:1.6em}
.facts div{display:flex;column-gap:.4em}
.facts dt{color:#454b52;white-space:nowrap}.facts dt::after{content:":"}
.facts dd{font-weight:bold}
.verdict{border:.8mm solid #15191d;padding:.4mm 2.5mm .8mm;margin:1.4mm 0 0}
.verdict.stops{border:1.8mm double #15191d}
.verdict h2{font-size:15pt;border:0;padding:0;margin:0;line-height:1.15}
.verdict p{font-size:1.1em;font-weight:bold;line-height:1.2}
.two{display:grid;grid-template-columns:1fr 1fr;column-gap:5mm;align-items:start}
.list li{margin-bottom:.3em;padding-left:2mm;border-left:.6mm dotted #15191d}
.now .list li{border-left:1.2mm solid #15191d}
.before .list li{border-left:.8mm dashed #15191d}
.list .no{color:#454b52}
.more{font-weight:bold;padding-left:2mm}
.set{display:grid;grid-template-columns:64mm 1fr;column-gap:4mm}
.cards li{border-bottom:.25mm solid #6a7178;padding-bottom:1mm;margin-bottom:1mm}
.card{display:flex;justify-content:space-between;align-items:center;column-gap:2mm}
.card div{min-width:0;flex:1 1 40%}
.card h3{font-size:1.1em;overflow-wrap:break-word}
.card .psi{white-space:nowrap;font-size:1.1em;font-weight:bold}
.card .psi b{font-size:28pt;line-height:1;font-variant-numeric:tabular-nums}
.card.low .psi b{font-size:23pt}
.card .words{font-size:12pt;line-height:1.15;font-weight:bold;text-align:right;flex:0 1 60%}
.noair{font-weight:bold;border:.5mm solid #15191d;padding:.3mm 1.5mm;margin-bottom:.4mm}
.drawing{display:block;width:100%;max-height:100mm}
.drawing text{fill:currentColor;font-family:inherit}
.drawing .strong{font-weight:bold}
.body{fill:none;stroke:#6a7178;stroke-width:2}
.shaft{stroke:#6a7178;stroke-width:4}
.tire{fill:none;stroke:currentColor;stroke-width:2}
.tire.over{fill:url(#p-over)}.tire.close{fill:url(#p-close)}.tire.unseen{stroke-dasharray:4 3}
.tire.stop{fill:currentColor}
.mark{stroke:currentColor;stroke-width:2.6;fill:none}
.spot{fill:currentColor}
.cross{stroke:currentColor;stroke-width:3}
.axis,.dot{stroke:currentColor;stroke-width:1.5}.dot{fill:#fff}
.stairs{fill:none;stroke:currentColor;stroke-width:2}
.drawing .set{stroke:currentColor;stroke-width:1.5;stroke-dasharray:2 4}
.end{stroke:currentColor;stroke-width:3}.end.dashed{stroke-dasharray:9 5}
table{border-collapse:collapse;width:100%}
caption{text-align:left;font-weight:bold;padding-bottom:.3mm}
th,td{text-align:left;vertical-align:top;padding:.35mm 1.2mm .35mm 0;border-bottom:.2mm solid #6a7178;font-weight:normal}
.short{white-space:nowrap}
thead th{font-weight:bold;border-bottom-width:.4mm}
tbody th{font-weight:bold}
.tires{table-layout:fixed;margin-top:1.6mm}
.tires caption{font-size:1.15em;line-height:1.23;border-top:.4mm solid #15191d;padding:.5mm 0 .2mm}
h2.unseen{position:absolute;width:1px;height:1px;margin:0;border:0;overflow:hidden;clip-path:inset(50%)}
.tires .c1{width:29%}.tires .c2{width:16%}.tires .c3{width:14%}.tires .c4{width:14%}
.after{margin-top:.5mm}
.tires td{height:6.2mm}
.flag{display:block}
.write{display:block;min-height:1.2em;border:.25mm dashed #6a7178;margin-right:1mm}
.foot{break-inside:avoid;border-top:.4mm solid #15191d;margin-top:1.6mm;padding-top:.5mm}
.blanks{display:flex;column-gap:3mm;margin-top:6.5mm}
.blanks span{flex:1;border-top:.25mm solid #15191d;padding-top:.4mm;font-size:9pt;line-height:1.15}
.sheet.details,.sheet.back{font-size:9pt}
.details h2{font-size:12pt;margin-top:4mm}
.details h2:first-child{font-size:16pt;border:0;margin-top:0}
.details h3{font-size:10pt;margin:2.5mm 0 1mm}
.axle{display:grid;grid-template-columns:94mm 1fr 44mm;column-gap:4mm;break-inside:avoid}
.axle h3{grid-column:1/-1}
.axle li{margin-bottom:.3em}
.rows td,.rows tbody th{white-space:nowrap}
.verdicts li{break-inside:avoid;border-bottom:.2mm solid #6a7178;padding:1mm 0}
.verdicts .rule{color:#454b52}
.wide .list{columns:2;column-gap:5mm}.wide li{break-inside:avoid}
.cut{border:.5mm dashed currentColor;padding:1.5mm 3mm;margin-top:3mm;break-inside:avoid}.cut h2{border:0;margin-top:0}
.sets{display:flex;flex-wrap:wrap;column-gap:6mm;font-size:1.25em}
.sheet.history{font-size:9pt;line-height:1.17}.history .verdict h2{font-size:14pt}.history .list li{margin-bottom:.12em}.history h2{margin-top:.8mm}.history h3{font-size:1em}
.flow{columns:2;column-gap:5mm}.flow li{break-inside:avoid}.history .foot{margin-top:.6mm}
.charts{display:grid;grid-template-columns:1fr 1fr;column-gap:5mm}.charts.loads{grid-template-columns:repeat(4,1fr);column-gap:3mm}
.charts figure{break-inside:avoid;border-bottom:.2mm solid #6a7178;padding:.4mm 0}
.charts .drawing{max-height:13.4mm}.charts .pair{display:flex;column-gap:2mm}.charts .pair .drawing{width:50%}
.doubt{stroke:currentColor;stroke-width:1.2}.trace{stroke:currentColor;stroke-width:2}.second{stroke-dasharray:2 3}.bar{fill:#6a7178;stroke:currentColor;stroke-width:1}
.charts.loads .drawing{max-width:70mm}h2 small{font-size:.85em;font-weight:normal}
.charts .end{stroke-width:1.5}
tr{break-inside:avoid}
h2,h3,caption{break-after:avoid}
.scroll{overflow-x:auto}
@media screen and (max-width:700px){
.sheet{margin:0;padding:4mm}.two,.set,.axle{grid-template-columns:1fr}
.sheet .drawing{max-height:none}.set>*,.axle>*{min-width:0}.set figure,.axle figure{overflow-x:auto}.set .drawing{min-width:480px}.axle .drawing{min-width:410px}
.flow,.wide .list{columns:1}.charts,.charts.loads{grid-template-columns:1fr}
}
@media screen and (max-width:700px){.sheet,.sheet.back,.sheet.details,.sheet.history,.blanks span,h2 small{font-size:16px}.tires{table-layout:auto}}
@media (forced-colors:active){
.drawing,.drawing text,.verdict,.noair{color:CanvasText}.drawing text,.spot,.tire.stop,.bar{fill:CanvasText;forced-color-adjust:none}
.tire,.mark,.cross,.axis,.dot,.stairs,.end,.doubt,.trace,.shaft,.body,.drawing .set{stroke:CanvasText;forced-color-adjust:none}.dot{fill:Canvas}
}
@media print{
.dense{font-size:9pt}.tight{font-size:8pt}.least{font-size:7pt;line-height:1.19}.least h2{margin:1mm 0 .4mm}
.dense .tires td{height:5.4mm}.tight .tires td{height:4.7mm}.least .tires td{height:4mm}
html{background:#fff}
.sheet{margin:0;padding:0;max-width:none}
.sheet+.sheet{break-before:page}
.scroll{overflow:visible}
}
@page{margin:8mm}
`
