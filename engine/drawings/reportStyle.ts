import { day, inkProperties, night } from "./inks.ts";
import { svgRules } from "./svg.ts";

/**
 * The report's look: one sheet of drawing paper with its frame line and title block, lettered in one upright sans of the
 * drawing office, ink lines, one red pencil. By night the same sheet in a dark shop; printed, A4 or Letter in the day's inks,
 * drawings 186 mm wide on both.
 */
export const reportStyle = `
:root{color-scheme:light dark;${inkProperties(day)}--lettering:"DIN Alternate",Bahnschrift,"Noto Sans","Liberation Sans",Arial,sans-serif}
@media (prefers-color-scheme:dark){:root{${inkProperties(night)}}}
*{box-sizing:border-box}
html{font-size:18px;-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font-family:var(--lettering);line-height:1.5;font-variant-numeric:tabular-nums lining-nums}
main{max-width:1180px;margin:1.1rem auto;border:2px solid var(--ink);padding:0 2.4rem}
h1{font-size:2.3rem;line-height:1.15;margin:0;font-weight:600;text-wrap:balance}
h2{font-size:1.5rem;line-height:1.2;margin:0 0 .9rem;font-weight:600}
h3{font-size:1.05rem;line-height:1.3;margin:0;font-weight:600}
p{margin:.25rem 0 .6rem;max-width:68ch;text-wrap:pretty}
.sheet-head{padding:2.2rem 0 1.6rem}
.sheet-head p{margin:.5rem 0 0;font-size:1.1rem}
.sheet{border-top:1px solid var(--ink);padding:1.5rem 0 2.2rem}
.soft,figcaption .soft,.note{color:var(--soft)}
.accent{color:var(--accent)}
.note{font-size:.9rem}
.tally{display:flex;flex-wrap:wrap;gap:.3rem 1.6rem;margin:1.1rem 0 0;padding:0;list-style:none}
.tally li{display:flex;align-items:center;gap:.45rem}
.tally a{color:inherit;text-underline-offset:.2em;text-decoration-thickness:1px}
.mark{width:1.35rem;height:1.35rem;flex:none;fill:none;stroke:var(--ink);stroke-width:2;stroke-linejoin:round;stroke-linecap:round}
.mark.watch{stroke:var(--accent)}
.mark.stop{stroke:var(--accent)}
.mark.stop .solid{fill:var(--accent)}
.mark.stop .bar{stroke:var(--paper);stroke-width:3}
.words{display:grid;grid-template-columns:minmax(9rem,13rem) 1fr;margin:0;max-width:none}
.words dt{font-weight:600;padding:.65rem 1rem .65rem 0;border-top:1px solid var(--faint)}
.words dd{margin:0;padding:.65rem 0;border-top:1px solid var(--faint)}
.words dd p{margin:0 0 .15rem;max-width:70ch}
.words dt:first-of-type,.words dd:first-of-type{border-top:0}
.verdict{display:grid;grid-template-columns:minmax(9rem,13rem) 1fr;border-top:1px solid var(--faint);padding:.9rem 0}
.verdict:first-child{border-top:0;padding-top:0}
.level{display:flex;align-items:center;gap:.5rem;margin:0;align-self:start;font-weight:600}
.level.watch,.level.stop{color:var(--accent)}
.verdict dl{margin:.5rem 0 0;font-size:.9rem}
.verdict dl div{display:grid;grid-template-columns:10.5rem 1fr;gap:0 1rem;padding:.2rem 0}
.verdict dt{color:var(--soft)}
.verdict dd{margin:0;max-width:62ch}
.meant strong{color:var(--accent)}
figure{margin:0}
figcaption{font-size:.95rem;margin-top:.4rem}
figure>svg,.strip>svg{display:block;width:100%;height:auto}
.modes{display:grid;grid-template-columns:repeat(4,1fr);gap:1.8rem 1.4rem;margin:1.2rem 0}
.modes h3{display:flex;justify-content:space-between;gap:.5rem;border-top:1px solid var(--ink);padding-top:.35rem;margin-top:.5rem}
.modes figcaption p{margin:.1rem 0 0;font-size:.88rem}
.tints{display:flex;flex-wrap:wrap;align-items:center;gap:.2rem 1.4rem;margin:0;padding:0;list-style:none;font-size:.95rem}
.tints li{display:flex;align-items:center;gap:.5rem}
.tints svg{height:1.1rem;width:auto;flex:none}
.halves{display:grid;grid-template-columns:1fr 1fr;gap:2rem;margin-top:1.2rem;align-items:start}
table{border-collapse:collapse;font-size:.9rem}
caption{text-align:left;font-weight:600;padding-bottom:.3rem}
th,td{text-align:right;padding:.22rem .8rem .22rem 0;border-bottom:1px solid var(--faint);font-weight:400;white-space:nowrap;vertical-align:baseline}
thead th{color:var(--soft);border-bottom:1px solid var(--ink)}
th.left,td.left{text-align:left}.notes td.left,.margins :is(td,th).left{white-space:normal}
h4{font-size:.95rem;margin:.1rem 0 0;font-weight:600}
.stresses{margin:.6rem 0 1.6rem}
.margins{width:100%;font-size:.86rem;margin-bottom:1.1rem}.margins thead th{white-space:nowrap}
.scroll{overflow-x:auto}
details{margin:.1rem 0}.verdict p{margin-bottom:.2rem}
summary{cursor:pointer;padding:.3rem 0;text-underline-offset:.2em;text-decoration:underline;text-decoration-color:var(--faint)}
summary:hover{text-decoration-color:var(--ink)}
summary:focus-visible,a:focus-visible,.scroll:focus-visible{outline:2px solid var(--accent);outline-offset:3px}
.limits{margin:0;padding:0 0 0 1.1rem;max-width:72ch}
.limits li{margin:.25rem 0}
.title-block{display:grid;grid-template-columns:2fr 1fr 1fr 1fr;border-top:2px solid var(--ink);margin:0 -2.4rem}
.title-block div{padding:.5rem .8rem .6rem;border-left:1px solid var(--ink);min-width:0}
.title-block div:first-child{border-left:0;padding-left:2.4rem}
.title-block dt{font-size:.78rem;color:var(--soft)}
.title-block dd{margin:0;overflow-wrap:anywhere}
@media (max-width:1000px){.modes{grid-template-columns:repeat(3,1fr)}}
@media (max-width:820px){html{font-size:17px}main{margin:.4rem;padding:0 1.2rem}.title-block{margin:0 -1.2rem;grid-template-columns:1fr 1fr}.title-block div:first-child{padding-left:1.2rem}.title-block div:nth-child(odd){border-left:0;padding-left:1.2rem}.title-block div:nth-child(n+3){border-top:1px solid var(--ink)}.words,.verdict{grid-template-columns:8.5rem 1fr}.verdict dl div{grid-template-columns:1fr}.halves{grid-template-columns:1fr}}
@media (max-width:560px){.modes{grid-template-columns:repeat(2,1fr)}.words,.verdict{grid-template-columns:1fr}.words dd{border-top:0;padding-top:0}h1{font-size:1.8rem}}
@media print{:root{color-scheme:light;${inkProperties(day)}}@page{margin:12mm}html{font-size:10.5pt}body{background:none}main{border:0;padding:0;margin:0;max-width:186mm}.sheet-head{padding-top:0}figure,.verdict,tr,.title-block,.words dd{break-inside:avoid}.halves table{break-inside:avoid}.scroll{overflow:visible}h2,h3,summary,.tints,.sheet>h2+p{break-after:avoid}.short,.sheet>h2+p{break-inside:avoid}.verdict dl div{grid-template-columns:9rem 1fr}.verdict dd{max-width:none}.verdict summary{display:none}.modes{grid-template-columns:repeat(4,1fr);gap:1rem}.title-block{margin:0}.title-block div:first-child{padding-left:0}details::details-content{content-visibility:visible;block-size:auto}details.folded::details-content{content-visibility:hidden;block-size:0}.folded summary{display:block}.margins{font-size:.82rem}}
${svgRules}
`;
