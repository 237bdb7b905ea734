package server

import "github.com/gin-gonic/gin"

func (s *Server) workroomRoutes(g gin.IRouter) {}
