/**
 * What anyone gets who comes without the pass: a page without data that exchanges the code in the address (after "#",
 * so that it is never sent or logged) and then loads the program.
 */
export const ENTRY_PAGE = `<!doctype html>
<html lang="en">
  <head>
    <meta charset="utf-8">
    <meta name="color-scheme" content="light dark">
    <title>Borewright</title>
    <link rel="icon" href="data:,">
    <script type="module" src="./enter.js"></script>
  </head>
  <body>
    <p id="say">Opening Borewright ...</p>
  </body>
</html>
`;

export const ENTRY_SCRIPT = `const say = (text) => { document.getElementById("say").textContent = text; };
const again = "Open the address that Borewright printed when it was started, or start it again.";
const code = new URLSearchParams(location.hash.slice(1)).get("code");
history.replaceState(null, "", location.pathname);
if (code === null) {
  say("This page needs a key. " + again);
} else {
  try {
    const answer = await fetch("./enter", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ code }),
    });
    if (answer.ok) {
      sessionStorage.setItem("borewright.token", (await answer.json()).token);
      location.reload();
    } else {
      say("This address was used before. " + again);
    }
  } catch {
    say("Borewright does not answer. Start it again.");
  }
}
`;
