// The code stands behind the # of the address: it was never sent, and is taken out of sight here.
const code = location.hash.slice(1);
if (code) {
  history.replaceState(null, "", location.pathname);
  const field = document.getElementById("code");
  field.value = code;
  document.getElementById("enter").requestSubmit();
}
