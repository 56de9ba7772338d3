// The style sheet of a report: a calm page on screen, black on white on paper. It reads colours from the charts' sheet.
import { chartStyleSheet } from '../charts/theme.ts';

export const REPORT_STYLE = `${chartStyleSheet(':root')}
:root{color-scheme:light dark}
*{box-sizing:border-box}
body{margin:0 auto;padding:2rem 1.5rem 4rem;max-width:70rem;background:var(--chart-background);color:var(--chart-ink);font:1rem/1.5 "DejaVu Sans",Verdana,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.7rem;line-height:1.25;margin:.5rem 0}
h2{font-size:1.3rem;margin:2.5rem 0 .6rem;padding-top:.6rem;border-top:2px solid var(--chart-axis)}
h3{font-size:1.1rem;margin:1.8rem 0 .4rem}
h4{font-size:1rem;margin:1.3rem 0 .3rem}
p,ul,ol{margin:.5rem 0}
li{margin:.25rem 0}
a{color:var(--chart-accent)}
.quiet{color:var(--chart-quiet);font-size:.86rem}
.invented{border:3px solid var(--chart-fallsShort);padding:.6rem 1rem;font-weight:bold;margin:0 0 1rem}
.verdict{font-weight:bold}
figure{margin:1rem 0}
figure svg{display:block;width:100%;height:auto;max-width:60rem}
figcaption{font-size:.86rem;color:var(--chart-quiet)}
.table{overflow-x:auto;margin:.6rem 0}
table{border-collapse:collapse;font-size:.8rem;min-width:60%}
th,td{text-align:left;vertical-align:top;padding:.25rem .6rem .25rem 0;border-bottom:1px solid var(--chart-grid);overflow-wrap:break-word}
th{border-bottom:1px solid var(--chart-axis)}
.number{text-align:right;font-variant-numeric:tabular-nums;overflow-wrap:normal}
td.number{white-space:nowrap}
td:not(.number){min-width:4.6rem}
dl{display:grid;grid-template-columns:repeat(auto-fill,minmax(15rem,1fr));gap:.3rem 1.2rem;margin:.6rem 0;font-size:.88rem}
dt{color:var(--chart-quiet);font-size:.8rem}
dd{margin:0}
code{font-family:"DejaVu Sans Mono",monospace;font-size:.8rem}
@media print{body{max-width:none;padding:0;font-size:9.5pt}h2{break-before:auto}h2,h3,h4{break-after:avoid}figure,tr,dl{break-inside:avoid}.table{overflow:visible}table{font-size:6.6pt}th,td{padding-right:.35rem}td.number{white-space:normal}td:not(.number){min-width:0}a{color:inherit;text-decoration:none}@page{margin:16mm}}
`;
