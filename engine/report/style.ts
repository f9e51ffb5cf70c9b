/** The report's only style: ink on paper, one column, A4 or Letter. */
export const REPORT_STYLE = `
@page{margin:14mm 13mm}
*{box-sizing:border-box}
body{margin:0 auto;max-width:184mm;padding:8mm 4mm;background:#fff;color:#1C1A17;font:9.5pt/1.4 system-ui,-apple-system,'Segoe UI','Liberation Sans',Arial,sans-serif;font-variant-numeric:tabular-nums}
h1,h2,h3{font-family:'Iowan Old Style','Palatino Linotype',Palatino,Georgia,'Liberation Serif',serif;line-height:1.2;margin:0;font-weight:600}
h1{font-size:18pt}
h2{font-size:12.5pt;margin:6mm 0 2mm;border-bottom:.5pt solid #57524A;padding-bottom:.8mm;break-after:avoid}
h3{font-size:10pt;margin:0}
p{margin:0 0 2mm}
.lead{font-size:11pt}
.quiet{color:#57524A}
.status{font-weight:600}
.ok{color:#2F5D3A}.bad{color:#8A1F11}.warn{color:#7A4B00}
figure{margin:0 0 2mm;break-inside:avoid}
figure svg{display:block;width:100%;height:auto;font:9px system-ui,-apple-system,'Segoe UI','Liberation Sans',Arial,sans-serif}
figcaption{color:#57524A;font-size:8.5pt}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:2mm 6mm}
.beside{display:grid;grid-template-columns:minmax(0,1.45fr) minmax(0,1fr);gap:2mm 6mm;align-items:start}
table{border-collapse:collapse;width:100%;margin:0 0 2mm;font-size:8.8pt}
th{text-align:left;font-weight:400}
thead th{color:#57524A;border-bottom:.5pt solid #57524A;vertical-align:bottom}
thead th+th,td{text-align:right}td{white-space:nowrap}table.words td{white-space:normal}
th,td{padding:.5mm 2mm .5mm 0;vertical-align:top}
tr{break-inside:avoid}
tbody tr+tr th,tbody tr+tr td{border-top:.25pt solid #D8D2C4}
table.words td{text-align:left}
table.cases{font-size:8pt}table.cases thead th{white-space:nowrap}
table.words thead th{text-align:left}
dl{columns:2;column-gap:8mm;font-size:7.6pt;margin:0 0 2mm}
dl div{display:flex;justify-content:space-between;gap:3mm;break-inside:avoid;border-bottom:.25pt solid #D8D2C4}
dt{color:#57524A;flex:none}dd{margin:0;text-align:right;overflow-wrap:anywhere}
ul{margin:0 0 2mm;padding-left:5mm}li{margin:0 0 1mm;break-inside:avoid}
@media print{body{padding:0;max-width:none}}
@media screen{body{background:#FAF8F3}}
@media screen and (max-width:640px){.pair,.beside{grid-template-columns:1fr}dl{columns:1}td{white-space:normal}th,td{overflow-wrap:anywhere}}
`;
