import { day, inkProperties, night } from "../inks.ts";
import { svgRules } from "../svg.ts";

/**
 * The look of shop cards: the report's paper, inks and lettering, set large for reading from a step away. On screen a
 * card is a sheet with its frame; printed, one a page of A4 or Letter at true size.
 */
export const cardStyle = `
:root{color-scheme:light dark;${inkProperties(day)}--lettering:"DIN Alternate",Bahnschrift,"Noto Sans","Liberation Sans",Arial,sans-serif}
@media (prefers-color-scheme:dark){:root{${inkProperties(night)}}}
*{box-sizing:border-box}
html{font-size:13pt;-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font-family:var(--lettering);line-height:1.35;font-variant-numeric:tabular-nums lining-nums}
main{max-width:210mm;margin:0 auto;padding:1rem}
h1{font-size:1.6rem;line-height:1.15;font-weight:600;margin:.6rem 0 .3rem}
h2{font-size:1.9rem;line-height:1.1;font-weight:600;margin:0}
p{margin:.3rem 0 0;text-wrap:pretty}
.card{display:flex;flex-direction:column;border:2px solid var(--ink);padding:6mm 5mm 0;margin:1.4rem 0;overflow-x:auto}
.card>*{flex:none}
.card>header{margin-bottom:2.5mm}
figure{margin:1mm 0 2.5mm}
figure>svg{display:block;width:100%;height:auto}
table{border-collapse:collapse;width:100%}
caption{text-align:left;font-weight:600;padding-bottom:1mm}
th,td{text-align:right;font-weight:400;padding:0 1.6mm;border-bottom:1px solid var(--faint);white-space:nowrap;vertical-align:middle}
thead th{color:var(--soft);border-bottom:1px solid var(--ink);font-size:.82rem}
thead tr:first-child:not(:last-child)>*{border-bottom:0;text-align:center}
th.left,td.left{text-align:left;white-space:normal}
thead th.left{white-space:nowrap}
.numbers td{height:14mm;padding:0 2mm}
.numbers .value{font-size:1.75rem;font-weight:600}
.numbers .also{color:var(--soft)}
.key{display:inline-grid;place-items:center;min-width:2rem;height:2rem;border:1.5px solid var(--ink);border-radius:1rem;font-weight:600}
td.found,th.found{min-width:30mm}
td.found{border-left:1px solid var(--faint)}
.tick{width:4.4mm;height:4.4mm;display:inline-block;vertical-align:middle;flex:none}
.beside{display:grid;grid-template-columns:1fr 11mm;gap:3mm;align-items:center}
.upright svg{width:11mm;height:116mm;display:block}
.level svg{width:160mm;height:7mm;display:block;margin-top:2mm}
.by-fret th[scope=row]{font-weight:600}
.by-fret tbody td,.by-fret tbody th{height:var(--row);line-height:1;font-size:min(13pt,calc(var(--row)*.8))}
.by-fret .tick{width:min(4.4mm,calc(var(--row)*.8));height:min(4.4mm,calc(var(--row)*.8))}
.by-fret tbody tr:nth-child(4n) :is(td,th){border-bottom-color:var(--ink)}
.by-fret td.found{min-width:22mm}
.numbers .tick{width:7mm;height:7mm}
.boxes{list-style:none;margin:3mm 0 0;padding:0}
.boxes li{display:flex;gap:2.5mm;align-items:center;margin:1.2mm 0}
.caution{border-left:4px solid var(--accent);padding-left:3mm;margin-top:3mm;font-size:.9rem}
.caution strong{color:var(--accent)}
footer{margin-top:auto;padding-top:3mm}
footer dl{display:grid;grid-template-columns:2fr 2.4fr 1.9fr .8fr 1.5fr;border-top:2px solid var(--ink);margin:0 -5mm;font-size:.72rem}
footer div{border-left:1px solid var(--ink);padding:1.2mm 2mm 1.6mm;min-width:0}
footer div:first-child{border-left:0;padding-left:5mm}
footer dt{color:var(--soft);font-size:.64rem}
footer dd{margin:0;overflow-wrap:anywhere}
@media print{:root{color-scheme:light;${inkProperties(day)}}@page{margin:12mm}body{background:none}main{max-width:none;padding:0}.screen{display:none}.card{border:0;padding:0;margin:0;break-after:page;break-inside:avoid;height:253mm;overflow:visible}.card:last-child{break-after:auto}footer dl{margin:0}footer div:first-child{padding-left:0}}
${svgRules}
`;
