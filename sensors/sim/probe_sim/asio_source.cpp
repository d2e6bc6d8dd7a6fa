// Asio's own bodies, compiled once.
#include <boost/asio/impl/src.hpp>
