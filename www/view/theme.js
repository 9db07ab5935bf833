/*
 * Puts the chosen look on before anything is painted, and again when a page comes back or another tab chose anew; says whether the
 * program is kept, since then there is no wait to read through. A plain script, because a module would come too late. Not here: choosing (the page "More"), remembering (`store/settings.js`, same name).
 */
{
  const wear = () => {
    try {
      document.documentElement.dataset.theme = localStorage.getItem("lampblack.theme") ?? "auto";
    } catch {
      // Without leave to remember a look, it is the phone's.
    }
  };
  wear();
  if (navigator.serviceWorker?.controller) {
    document.documentElement.dataset.kept = "";
  }
  addEventListener("pageshow", wear);
  addEventListener("storage", wear);
}
