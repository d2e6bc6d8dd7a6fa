// The one place where Asio and Beast are compiled. Whoever includes them links daemon_asio, which
// turns their headers into declarations everywhere else.
#include <boost/asio/impl/src.hpp>
#include <boost/asio/ssl/impl/src.hpp>
#include <boost/beast/src.hpp>
