/** What a tablet sees before it is paired. No script: a form and words, for any browser. */
export function pairPage(message: string | null): string {
  const said = message === null ? "" : `<p class="said" role="alert">${message}</p>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Fairbout: pair this tablet</title>
<link rel="stylesheet" href="/pair.css">
</head>
<body>
<main>
<h1>Pair this tablet with the bench</h1>
<p>The bench shows a code of eight digits: under "A tablet at the workbench". It is good for five minutes and for one tablet.</p>
${said}
<form method="post" action="/pair">
<label for="code">Code on the bench</label>
<input id="code" name="code" inputmode="numeric" autocomplete="one-time-code" required maxlength="20">
<label for="name">A name for this tablet</label>
<input id="name" name="name" autocomplete="off" maxlength="80" value="tablet at the workbench">
<button type="submit">Pair</button>
</form>
</main>
</body>
</html>
`;
}

export const pairStyle = `:root{color-scheme:light dark}
body{margin:0;padding:2rem 1.2rem;font:1.25rem/1.5 system-ui,sans-serif;background:#fbfaf5;color:#1c2530}
main{max-width:32rem;margin:0 auto}
h1{font-size:1.7rem;line-height:1.25}
label{display:block;margin:1.4rem 0 .3rem}
input,button{font:inherit;min-height:3rem;box-sizing:border-box}
input{width:100%;padding:.4rem .6rem;border:1px solid #56606a;background:transparent;color:inherit;font-variant-numeric:tabular-nums}
#code{font-size:2rem;letter-spacing:.12em}
button{margin-top:1.6rem;padding:.5rem 2rem;border:1px solid #1c2530;background:#1c2530;color:#fbfaf5}
:focus-visible{outline:3px solid #b3321f;outline-offset:2px}
.said{color:#b3321f;border-left:3px solid;padding-left:.8rem}
@media(prefers-color-scheme:dark){body{background:#15191b;color:#ece6d8}input{border-color:#a9aaa2}button{background:#ece6d8;color:#15191b;border-color:#ece6d8}.said{color:#ff8b6b}:focus-visible{outline-color:#ff8b6b}}
`;
