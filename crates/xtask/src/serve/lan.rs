//! Serving to a phone in the same net: over TLS, since a browser gives microphone, camera and a kept program to nothing less, with a
//! certificate that is made on the spot and that nobody vouches for; the address as text and as a code to photograph.
//!
//! Not here: answering ([`super::http`]).

use std::net::{IpAddr, Ipv4Addr, TcpStream, UdpSocket};
use std::sync::Arc;

use qrcodegen::{QrCode, QrCodeEcc};
use rustls::pki_types::PrivateKeyDer;
use rustls::{ServerConfig, ServerConnection, StreamOwned};

/// The address of this machine that leads out into its net; sending nothing, a socket says which that would be.
pub fn addresses() -> Result<Vec<IpAddr>, String> {
    // Addresses for documentation and private nets (RFC 5737, RFC 1918): no packet is sent to them.
    let towards = ["192.0.2.1:9", "192.168.0.1:9", "10.0.0.1:9", "172.16.0.1:9"];
    let mut found: Vec<IpAddr> = towards
        .iter()
        .filter_map(|far| {
            let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
            socket.connect(far).ok()?;
            Some(socket.local_addr().ok()?.ip())
        })
        .filter(|ip| !ip.is_loopback() && !ip.is_unspecified())
        .collect();
    found.dedup();
    if found.is_empty() {
        Err("this machine is in no net: connect it to the one that the phone is in".to_owned())
    } else {
        Ok(found)
    }
}

/// A certificate for these addresses, of this hour and this run.
pub fn secure(addresses: &[IpAddr]) -> Result<ServerConfig, String> {
    let said = |error: &dyn std::fmt::Display| format!("no certificate could be made: {error}");
    let names: Vec<String> = addresses.iter().map(IpAddr::to_string).chain(["localhost".to_owned()]).collect();
    let made = rcgen::generate_simple_self_signed(names).map_err(|error| said(&error))?;
    let key = PrivateKeyDer::Pkcs8(made.signing_key.serialize_der().into());
    ServerConfig::builder_with_provider(Arc::new(rustls::crypto::ring::default_provider()))
        .with_safe_default_protocol_versions()
        .map_err(|error| said(&error))?
        .with_no_client_auth()
        .with_single_cert(vec![made.cert.der().clone()], key)
        .map_err(|error| said(&error))
}

/// Certificate and key as text, for another program's server on this machine.
pub fn texts() -> Result<(String, String), String> {
    let made = rcgen::generate_simple_self_signed(["localhost".to_owned()])
        .map_err(|error| format!("no certificate could be made: {error}"))?;
    Ok((made.cert.pem(), made.signing_key.serialize_pem()))
}

/// A connection, spoken over TLS.
pub fn over(
    stream: TcpStream,
    secure: &Arc<ServerConfig>,
) -> std::io::Result<StreamOwned<ServerConnection, TcpStream>> {
    let connection = ServerConnection::new(Arc::clone(secure)).map_err(std::io::Error::other)?;
    Ok(StreamOwned::new(connection, stream))
}

/// What the person at this machine is told.
pub fn told(addresses: &[IpAddr], port: u16) -> Result<String, String> {
    let urls: Vec<String> = addresses.iter().map(|ip| format!("https://{ip}:{port}/")).collect();
    let first = urls.first().ok_or("there is no address")?;
    let more = urls[1..].iter().map(|url| format!("or at {url}\n")).collect::<String>();
    Ok(format!(
        "\n{}\nLampblack is at {first}  (stop it with Ctrl+C)\n{more}\n\
         The phone must be in the same net. It will say that the connection is not private, or that it does not know who made the\n\
         certificate: this machine made it just now, and nobody vouches for it. Choose to go on (\"Advanced\", then \"Proceed\"; on an\n\
         iPhone \"Show details\", then \"visit this website\"). What goes over the net is encrypted all the same. Then the page asks\n\
         for the microphone or the camera only when you press the button for it.\n\
         The certificate lasts as long as this run, so the phone asks again after the next one, and some browsers do not keep the\n\
         program for offline use from such an address: for that, put target/site on a host with a certificate that is vouched for.\n",
        code(first)?
    ))
}

/// A QR code in letters of a terminal, two rows of squares in each line; dark on light, with the quiet edge that scanners want.
fn code(text: &str) -> Result<String, String> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).map_err(|error| format!("no code: {error}"))?;
    // Four squares of quiet all round; outside of itself a code is light.
    let at = |x: i32, y: i32| code.get_module(x - 4, y - 4);
    let whole = code.size() + 8;
    let mut lines = String::new();
    for y in (0..whole).step_by(2) {
        lines.push_str("\u{1b}[30;107m");
        for x in 0..whole {
            lines.push(match (at(x, y), y + 1 < whole && at(x, y + 1)) {
                (false, false) => ' ',
                (true, false) => '▀',
                (false, true) => '▄',
                (true, true) => '█',
            });
        }
        lines.push_str("\u{1b}[0m\n");
    }
    Ok(lines)
}

#[cfg(test)]
mod tests {
    use std::io::{Read, Write};
    use std::net::TcpListener;

    use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
    use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
    use rustls::{ClientConfig, ClientConnection, DigitallySignedStruct, Error, SignatureScheme};

    use super::*;

    #[test]
    fn the_code_is_framed_and_square() {
        let lines = code("https://192.168.1.20:8787/").expect("a code");
        let rows: Vec<&str> =
            lines.lines().map(|line| line.trim_start_matches("\u{1b}[30;107m").trim_end_matches("\u{1b}[0m")).collect();
        let side = rows[0].chars().count();
        assert_eq!(rows.len(), side.div_ceil(2));
        assert!(rows.iter().all(|row| row.chars().count() == side && row.starts_with("    ") && row.ends_with("    ")));
        // The finder in the upper left corner: seven dark in a row.
        assert!(rows[2].trim_start().starts_with("█▀▀▀▀▀█"), "{}", rows[2]);
    }

    #[test]
    fn what_the_phone_will_ask_is_said() {
        let text = told(&[IpAddr::from([192, 168, 1, 20]), IpAddr::from([10, 0, 0, 7])], 8787).expect("told");
        for wanted in
            ["https://192.168.1.20:8787/", "or at https://10.0.0.7:8787/", "not private", "Proceed", "microphone"]
        {
            assert!(text.contains(wanted), "{wanted}");
        }
    }

    /// As a person who goes on in spite of the warning.
    #[derive(Debug)]
    struct GoesOn;

    impl ServerCertVerifier for GoesOn {
        fn verify_server_cert(
            &self,
            _: &CertificateDer<'_>,
            _: &[CertificateDer<'_>],
            _: &ServerName<'_>,
            _: &[u8],
            _: UnixTime,
        ) -> Result<ServerCertVerified, Error> {
            Ok(ServerCertVerified::assertion())
        }

        fn verify_tls12_signature(
            &self,
            _: &[u8],
            _: &CertificateDer<'_>,
            _: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            Ok(HandshakeSignatureValid::assertion())
        }

        fn verify_tls13_signature(
            &self,
            message: &[u8],
            cert: &CertificateDer<'_>,
            signed: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            let with = rustls::crypto::ring::default_provider().signature_verification_algorithms;
            rustls::crypto::verify_tls13_signature(message, cert, signed, &with)
        }

        fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
            rustls::crypto::ring::default_provider().signature_verification_algorithms.supported_schemes()
        }
    }

    #[test]
    fn a_page_comes_over_tls() -> Result<(), Box<dyn std::error::Error>> {
        let folder = std::env::temp_dir().join(format!("lampblack-lan-{}", std::process::id()));
        std::fs::create_dir_all(&folder)?;
        std::fs::write(folder.join("index.html"), "<p>bench</p>")?;
        let secure = Arc::new(secure(&[IpAddr::from([127, 0, 0, 1])])?);
        let listener = TcpListener::bind("127.0.0.1:0")?;
        let at = listener.local_addr()?;
        let server = std::thread::spawn({
            let folder = folder.clone();
            move || super::super::http::converse(over(listener.accept()?.0, &secure)?, &folder)
        });
        let client = ClientConfig::builder_with_provider(Arc::new(rustls::crypto::ring::default_provider()))
            .with_safe_default_protocol_versions()?
            .dangerous()
            .with_custom_certificate_verifier(Arc::new(GoesOn))
            .with_no_client_auth();
        let connection = ClientConnection::new(Arc::new(client), ServerName::try_from("127.0.0.1")?)?;
        let mut stream = StreamOwned::new(connection, TcpStream::connect(at)?);
        stream.write_all(b"GET / HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n")?;
        let mut text = String::new();
        // The server ends the connection without a farewell, which TLS takes for a fault and a browser does not.
        let _ = stream.read_to_string(&mut text);
        assert!(text.starts_with("HTTP/1.1 200") && text.ends_with("<p>bench</p>"), "{text}");
        assert!(server.join().is_ok_and(|ended| ended.is_ok()));
        std::fs::remove_dir_all(&folder)?;
        Ok(())
    }
}
