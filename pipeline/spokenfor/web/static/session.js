// Asks the workbench to change something. A workbench that was started again has another token: once its new
// address was opened in this browser, the page goes on with the token of now.
let token = document.querySelector('meta[name="csrf"]').content;

export const csrf = () => token;

// True when the workbench knows this browser, and the token is that of now.
export const renew = async () => {
  const answer = await fetch(location.pathname, { headers: { Accept: "text/html" } });
  if (!answer.ok) return false;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  token = page.querySelector('meta[name="csrf"]').content;
  return true;
};

export const change = async (address, options) => {
  const ask = () => fetch(address, {
    ...options, headers: { ...options.headers, "X-CSRF": token, Accept: "application/json" },
  });
  const answer = await ask();
  return answer.status === 403 && (await renew()) ? ask() : answer;
};

export const elsewhere = "The workbench was started again. Open the address that it prints now, in another tab";
