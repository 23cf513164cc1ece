#include "share/report_style.hpp"

namespace quarterturn::share {
namespace {

constexpr std::string_view style = R"css(
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--page);color:var(--ink);font:1rem/1.5 system-ui,"Noto Sans","Liberation Sans",sans-serif;overflow-wrap:break-word}
header,main,footer{max-width:70rem;margin:0 auto;padding:0 clamp(.9rem,3.5vw,2.25rem)}
h1,h2,h3,.figure{font-family:Charter,"Bitstream Charter","Source Serif 4","Noto Serif","Liberation Serif",Georgia,serif;font-weight:600;line-height:1.2;text-wrap:balance}
h1{font-size:clamp(1.75rem,5.5vw,2.7rem);margin:.1em 0 .25em}
h2{font-size:1.35rem;margin:0 0 .8rem}
h3{font-size:1rem;margin:1.3rem 0 .4rem}
p,ul,ol,dl,dd{margin:0}
a{color:var(--accent);text-underline-offset:.18em}
header{padding-top:clamp(1.6rem,5vw,3.2rem);padding-bottom:1.6rem}
.turns{display:flex;gap:.35rem;margin-bottom:1rem}
.above{color:var(--accent);font-weight:600}
.below,.quiet{color:var(--quiet)}
section{background:var(--panel);border-radius:.4rem;padding:clamp(1rem,3vw,1.75rem);margin-bottom:1.25rem}
.dial{flex:none;vertical-align:middle}
.dial .ring{fill:none;stroke:var(--mark);stroke-width:1.2}
.dial .judges{fill:none;stroke:var(--accent);stroke-width:2.6;stroke-linecap:round}
.dial .body{fill:var(--ink)}
.dial .free{fill:none;stroke:var(--ink);stroke-width:1.3}
.facts{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));gap:1.1rem 1.5rem}
.facts>div{border-top:2px solid var(--mark);padding-top:.5rem}
dt{color:var(--quiet);font-size:.9rem}
.figure{font-size:1.55rem;font-variant-numeric:lining-nums tabular-nums;display:block}
.more{color:var(--quiet);font-size:.88rem;display:block}
.glance{list-style:none;padding:0}
.glance+p,.chart+p,.wide+p,.facts+ul,.stands+p{margin-top:.9rem}
p+.wide{margin-top:1.6rem}
section>h3:first-child{margin-top:0}
.glance li{display:grid;grid-template-columns:2.4rem minmax(0,1fr) auto;gap:.15rem .7rem;align-items:center;padding:.55rem 0;border-top:1px solid var(--rule)}
.glance li:first-child{border-top:0}
.glance .dial{grid-row:span 2}
.glance .length{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
.track{grid-column:2/-1;position:relative;height:.7rem;background:var(--sunken);border-bottom:1px solid var(--mark)}
.fill{height:100%;background:var(--series-0)}
.reached .fill{background:var(--series-2)}
.goal-mark{position:absolute;top:-.2rem;bottom:-.2rem;width:2px;margin-left:-1px;background:var(--ink)}
.verdict{font-weight:600;white-space:nowrap}
.short .verdict{color:var(--warn)}
.reached .verdict{color:var(--good)}
.pose{display:grid;grid-template-columns:minmax(0,1fr);gap:1.1rem 1.75rem}
.pose-head{display:flex;gap:.8rem;align-items:center}
.pose-head h2{margin:0}
.pose-head .verdict{margin-left:auto;text-align:right}
figure{margin:0}
figure img{display:block;width:auto;max-width:100%;height:auto;max-height:30rem;border-radius:.25rem;background:var(--sunken)}
figure .picture{position:relative;width:fit-content;max-width:100%}
figure .over{position:absolute;inset:0;width:100%;height:100%;overflow:hidden;border-radius:.25rem}
.over line{fill:none;stroke-linecap:round}
.over .limbs{stroke:#fff;stroke-width:2.2;stroke-opacity:.9;filter:drop-shadow(0 0 1.2px #000)}
.over .plumb{stroke:#ffd34d;stroke-width:2;stroke-dasharray:7 5;filter:drop-shadow(0 0 1.2px #000)}
figure .lines{width:1.05rem;height:1.05rem;margin:0 .45rem .45rem 0;vertical-align:middle;accent-color:var(--accent)}
figure label{font-size:.88rem;color:var(--quiet);cursor:pointer}
.lines:not(:checked)~.picture .over{display:none}
figcaption{font-size:.85rem;color:var(--quiet);margin-top:.4rem}
.stands{list-style:none;padding:0}
.stands li{padding:.3rem 0 .3rem 1.1rem;position:relative}
.stands li::before{content:"";position:absolute;left:0;top:.85rem;width:.5rem;height:2px;background:var(--accent)}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600;padding-bottom:.4rem}
th,td{padding:.45rem .5rem;text-align:left;vertical-align:top;border-top:1px solid var(--rule);font-weight:400}
thead th{border-top:0;color:var(--quiet);font-size:.85rem;vertical-align:bottom}
th:first-child{padding-left:0}
td.number,th.number{text-align:right;white-space:nowrap}
td.mark,th.mark{white-space:nowrap}
td.mark b{font-size:1.1rem;font-weight:600}
.pips{display:inline-block;margin-left:.4rem;letter-spacing:.08em;color:var(--quiet);font-size:.75rem}
.measure{display:block;color:var(--quiet);font-size:.88rem}
.kept{color:var(--good)}.missed{color:var(--warn)}
.wide{overflow-x:auto;background:linear-gradient(90deg,var(--panel) 45%,transparent) 0 0/2.5rem 100% no-repeat local,linear-gradient(270deg,var(--panel) 45%,transparent) 100% 0/2.5rem 100% no-repeat local,linear-gradient(90deg,var(--mark),transparent) 0 0/.5rem 100% no-repeat scroll,linear-gradient(270deg,var(--mark),transparent) 100% 0/.5rem 100% no-repeat scroll}
.wide table{width:auto;min-width:100%}
.wide tbody th,.wide td{white-space:nowrap}
.differences td .measure{white-space:normal;text-wrap:balance}
@media (max-width:40rem){.wide tbody th{white-space:normal;min-width:6.2rem}}
.wide thead th{white-space:normal;min-width:4.6rem}
.notes{list-style:none;padding:0}
.notes li{border-left:3px solid var(--mark);padding:.1rem 0 .1rem .8rem;margin-bottom:.9rem}
.notes .done{border-left-style:dotted}
.notes .from{font-size:.88rem;color:var(--quiet)}
.notes .from b{color:var(--ink);font-weight:600}
.notes .said{white-space:pre-line}
.beside{display:grid;grid-template-columns:1fr 1fr;gap:.3rem;max-width:44rem;margin:.6rem 0}
.beside figure img{width:100%;max-height:none}
.origin{font-size:.9rem;color:var(--quiet);margin-top:1rem}
.charts{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,24rem),1fr));gap:1.5rem 2rem}
.charts h3{display:flex;gap:.6rem;align-items:center;margin-top:0}
.chart{display:block;width:100%;max-width:30rem;height:auto;overflow:visible}
.chart text{font-size:12.5px;fill:var(--quiet);font-family:inherit}
.chart .title{fill:var(--ink)}
.chart .grid{stroke:var(--rule)}
.chart .axis{stroke:var(--mark)}
.chart .goal{stroke:var(--ink);stroke-width:1.5;stroke-dasharray:6 4}
.chart .halo{fill:var(--ink);paint-order:stroke;stroke:var(--panel);stroke-width:4px}
.chart .line{fill:none;stroke-width:2;stroke-linejoin:round}
.chart .line.s0{stroke:var(--series-0)}.chart .line.s1{stroke:var(--series-1)}.chart .line.s2{stroke:var(--series-2)}.chart .line.s3{stroke:var(--series-3)}
.chart g.s0{fill:var(--series-0)}.chart g.s1{fill:var(--series-1)}.chart g.s2{fill:var(--series-2)}.chart g.s3{fill:var(--series-3)}
.chart g{stroke:var(--panel);stroke-width:1.2}
.legend{display:flex;flex-wrap:wrap;gap:.3rem 1.4rem;list-style:none;padding:0;margin-bottom:.8rem}
.legend li{display:flex;gap:.5rem;align-items:center}
.legend .key{width:28px;height:14px;flex:none}
.warnings{padding-left:1.2rem}
.part{margin:2rem 0 1rem;font-size:1.6rem}
.cautions{border:2px solid var(--warn)}
.cautions h2{color:var(--warn)}
.cautions ul,.how ul{padding-left:1.2rem;max-width:46rem}
.cautions li,.how li{margin-bottom:.45rem}
.how{color:var(--quiet)}.how h2{color:var(--ink)}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
footer{padding-top:.5rem;padding-bottom:2.5rem;color:var(--quiet);font-size:.9rem}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
@media (min-width:46rem){
.facts{grid-template-columns:repeat(3,minmax(0,1fr))}
.pose.with-still{grid-template-columns:minmax(0,17rem) minmax(0,1fr);grid-template-areas:"head head" "still told" "still list"}
.pose.with-still>.pose-head{grid-area:head}.pose.with-still>figure{grid-area:still}.pose.with-still>.told{grid-area:told}.pose.with-still>.list{grid-area:list}
.pose.with-still{grid-template-rows:auto auto 1fr}
.pose.with-still>figure{position:sticky;top:1rem;align-self:start}
}
@media (min-width:62rem){.curves{display:grid;grid-template-columns:1fr 1fr;gap:1rem 1.5rem}}
@media (max-width:56rem){.pips{display:none}.pose.with-still{column-gap:1.3rem}}
@media (min-width:46rem) and (max-width:56rem){.pose.with-still{grid-template-columns:13rem minmax(0,1fr)}}
@media (max-width:30rem){
th.mark{font-size:.75rem}
.glance li{grid-template-columns:2.4rem minmax(0,1fr)}.glance .dial{grid-row:span 3}.glance .length{text-align:left;white-space:normal}
th,td{padding-left:.3rem;padding-right:.3rem}.pose-head{flex-wrap:wrap}.pose-head h2{flex:1}.pose-head .verdict{margin:-.4rem 0 0 3.1rem;width:100%;text-align:left}}
@media print{
body{background:none;font-size:10.5pt}
section{padding:0;margin-bottom:1.4rem;border-radius:0}
.cautions{padding:.8rem}
figure,tr,.notes li,.glance li,.charts>div{break-inside:avoid}
h2,h3{break-after:avoid}
.fill,.track,.goal-mark{print-color-adjust:exact;-webkit-print-color-adjust:exact}
figure img{max-height:8cm}
figure .lines,figure label{display:none}
.pose.with-still{grid-template-columns:12rem minmax(0,1fr)}
.pose.with-still>figure{position:static}
}
)css";

}  // namespace

std::string_view report_style() {
    return style;
}

}  // namespace quarterturn::share
