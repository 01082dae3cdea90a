//! A static file server for this machine alone: what a project-pages host does, no more.

use std::fs;
use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

use anyhow::{Context, Result, bail};

const DEFAULT_PORT: u16 = 8787;
/// A browser's request for a static file is far below this.
const LONGEST_HEAD: u64 = 16 * 1024;

/// Reads `[--port N]`.
pub(crate) fn port(arguments: &[String]) -> Result<u16> {
    match arguments {
        [] => Ok(DEFAULT_PORT),
        [option, value] if option == "--port" => value.parse().with_context(|| {
            format!("--port: `{value}` is no port (allowed: 1 to 65535, or 0 for any free one)")
        }),
        [option] if option == "--port" => bail!("--port needs a number, such as --port 9000"),
        [other, ..] => bail!("serve knows only --port N, not `{other}`"),
    }
}

/// Serves a folder on 127.0.0.1 until the program is ended.
pub(crate) fn serve(folder: &Path, port: u16) -> Result<()> {
    let listener = listen(port)?;
    let folder =
        Arc::new(folder.canonicalize().with_context(|| folder.display().to_string())?);
    println!(
        "Bare Wafer is open at http://{}/  (Ctrl+C ends it)",
        listener.local_addr()?
    );
    for stream in listener.incoming() {
        let Ok(stream) = stream else { continue };
        let folder = Arc::clone(&folder);
        thread::spawn(move || {
            // A visitor who leaves in the middle of an answer is nobody's error.
            let _ = answer(stream, &folder);
        });
    }
    Ok(())
}

fn listen(port: u16) -> Result<TcpListener> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| match error.kind() {
        ErrorKind::AddrInUse => anyhow::anyhow!(
            "port {port} is used by another program; choose another one with --port, \
             such as `cargo xtask serve --port {}`",
            if port == u16::MAX { port - 1 } else { port + 1 }
        ),
        _ => anyhow::Error::new(error).context(format!("port {port} cannot be opened")),
    })
}

/// Answers one request and closes the connection.
fn answer(stream: TcpStream, folder: &Path) -> std::io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(10)))?;
    stream.set_write_timeout(Some(Duration::from_secs(30)))?;
    let mut head = BufReader::new(stream.try_clone()?.take(LONGEST_HEAD));
    let mut request = String::new();
    head.read_line(&mut request)?;
    // The header lines are read, so that the browser is not cut off, and not needed.
    let mut line = String::new();
    while head.read_line(&mut line)? > 2 {
        line.clear();
    }
    let response = respond(&request, folder);
    let mut stream = stream;
    write!(
        stream,
        "HTTP/1.1 {}\r\nContent-Type: {}\r\nContent-Length: {}\r\n{}\
         Cache-Control: no-cache\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n",
        response.status,
        response.mime,
        response.body.len(),
        response.header,
    )?;
    if response.with_body {
        stream.write_all(&response.body)?;
    }
    stream.flush()
}

struct Response {
    status: &'static str,
    mime: &'static str,
    header: String,
    body: Vec<u8>,
    with_body: bool,
}

impl Response {
    fn text(status: &'static str, header: &str, with_body: bool) -> Self {
        Self {
            status,
            mime: "text/plain; charset=utf-8",
            header: header.to_owned(),
            body: format!("{status}\n").into_bytes(),
            with_body,
        }
    }
}

/// Finds the answer to a request line such as `GET /css/page.css HTTP/1.1`.
fn respond(request: &str, folder: &Path) -> Response {
    let mut words = request.split_whitespace();
    let (Some(method), Some(target)) = (words.next(), words.next()) else {
        return Response::text("400 Bad Request", "", true);
    };
    let with_body = match method {
        "GET" => true,
        "HEAD" => false,
        _ => {
            return Response::text(
                "405 Method Not Allowed",
                "Allow: GET, HEAD\r\n",
                true,
            );
        }
    };
    let address = target.split(['?', '#']).next().unwrap_or("/");
    let Some(mut file) = locate(address, folder) else {
        return Response::text("404 Not Found", "", with_body);
    };
    if file.is_dir() {
        if !address.ends_with('/') {
            // Relative links of the page need the slash. A line break cannot get in here: the
            // request line was split at white space.
            let header = format!("Location: {address}/\r\n");
            return Response::text("301 Moved Permanently", &header, with_body);
        }
        file = file.join("index.html");
    }
    match fs::read(&file) {
        Ok(body) => Response {
            status: "200 OK",
            mime: mime(&file),
            header: String::new(),
            body,
            with_body,
        },
        Err(_) => Response::text("404 Not Found", "", with_body),
    }
}

/// The file that an address names, if it lies in the folder and exists.
fn locate(address: &str, folder: &Path) -> Option<PathBuf> {
    let decoded = percent_decode(address.strip_prefix('/')?)?;
    let relative = Path::new(&decoded);
    let plain = relative.components().all(|part| matches!(part, Component::Normal(_)));
    if !plain || decoded.contains(['\\', '\0']) {
        return None;
    }
    // Resolving also catches links that lead out of the folder.
    let file = folder.join(relative).canonicalize().ok()?;
    file.starts_with(folder).then_some(file)
}

fn percent_decode(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((&first, tail)) = rest.split_first() {
        if first != b'%' {
            bytes.push(first);
            rest = tail;
            continue;
        }
        let digits = std::str::from_utf8(tail.get(..2)?).ok()?;
        bytes.push(u8::from_str_radix(digits, 16).ok()?);
        rest = tail.get(2..)?;
    }
    String::from_utf8(bytes).ok()
}

/// The type that a browser needs to hear; it runs a wasm file from a stream only as such.
fn mime(file: &Path) -> &'static str {
    match file.extension().and_then(|extension| extension.to_str()).unwrap_or("") {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "csv" => "text/csv; charset=utf-8",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder with a page in it and a secret beside it.
    fn site(name: &str) -> PathBuf {
        let outside =
            std::env::temp_dir().join(format!("barewafer-{name}-{}", std::process::id()));
        let folder = outside.join("site");
        fs::create_dir_all(folder.join("pkg")).unwrap();
        fs::write(folder.join("index.html"), "page").unwrap();
        fs::write(folder.join("pkg/a b.wasm"), "module").unwrap();
        fs::write(outside.join("secret.txt"), "secret").unwrap();
        folder.canonicalize().unwrap()
    }

    #[test]
    fn pages_and_modules_come_with_their_types() {
        let folder = site("types");
        let page = respond("GET /?x=1 HTTP/1.1\r\n", &folder);
        assert_eq!((page.status, page.mime), ("200 OK", "text/html; charset=utf-8"));
        assert_eq!(page.body, b"page");
        let module = respond("GET /pkg/a%20b.wasm HTTP/1.1\r\n", &folder);
        assert_eq!((module.status, module.mime), ("200 OK", "application/wasm"));
        let head = respond("HEAD / HTTP/1.1\r\n", &folder);
        assert_eq!((head.status, head.with_body), ("200 OK", false));
    }

    #[test]
    fn nothing_outside_the_folder_is_served() {
        let folder = site("outside");
        for address in [
            "/../secret.txt",
            "/%2e%2e/secret.txt",
            "/pkg/../../secret.txt",
            "/..%2fsecret.txt",
            "/..%5csecret.txt",
            "//etc/passwd",
            "/%2fetc/passwd",
            "/%00",
            "/%zz",
            "/missing.js",
            "secret.txt",
        ] {
            let response = respond(&format!("GET {address} HTTP/1.1\r\n"), &folder);
            assert_eq!(response.status, "404 Not Found", "{address}");
        }
    }

    #[test]
    fn other_methods_and_nonsense_are_refused() {
        let folder = site("methods");
        assert_eq!(
            respond("POST / HTTP/1.1\r\n", &folder).status,
            "405 Method Not Allowed"
        );
        assert_eq!(respond("\r\n", &folder).status, "400 Bad Request");
        let moved = respond("GET /pkg HTTP/1.1\r\n", &folder);
        assert_eq!(moved.header, "Location: /pkg/\r\n");
    }

    #[test]
    fn a_busy_port_names_the_option() {
        let first = listen(0).unwrap();
        let busy = first.local_addr().unwrap().port();
        let error = listen(busy).unwrap_err().to_string();
        assert!(error.contains("--port"), "{error}");
    }

    #[test]
    fn the_port_option_is_read() {
        let words =
            |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(port(&words("")).unwrap(), 8787);
        assert_eq!(port(&words("--port 9000")).unwrap(), 9000);
        assert!(port(&words("--port 70000")).unwrap_err().to_string().contains("70000"));
        assert!(port(&words("--porz 1")).unwrap_err().to_string().contains("--port N"));
    }
}
